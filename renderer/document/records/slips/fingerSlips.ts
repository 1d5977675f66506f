import type { Pot } from '../../../engine/geometry';
import { plainFixed, roundedTo } from '../../../words';
import { measurementLabel } from '../../queries/names';
import { sayValue } from '../sayValue';
import { MOST_EARLY } from './earlySlips';
import {
  figuresOf,
  knownOf,
  livingFigures,
  logsOf,
  mediansBy,
  potsAround,
  trayGroups,
  treatmentGroups,
  type Groups,
} from './column';
import { MAD_TO_SD, medianInPlace } from './robust';
import type { Slip, SlipSource } from './slip';

/** From so many robust standard deviations on, another reading of a value is looked for. */
const ODD = 3;
/** The other reading has to be as near as this. */
const FITS = 1.5;
/**
 * How much likelier the other reading must make the column, as a logarithm: e⁸ against the one value
 * in a hundred that slips, in one of several ways, leaves odds of ten to one that it has.
 */
const GAIN = 8;
/** Two values speak for an exchange, each of which may be less odd by itself. */
const ODD_EXCHANGED = 2.2;
const EXCHANGE_GAIN = 8;

/**
 * Values that fit their treatment, tray and start badly, and would fit well in another reading: two
 * digits swapped, a digit too many, a point slipped, exchanged with a pot beside it, or the value of
 * that pot once more. Fit is judged by residuals of logarithms, of growth where starts tell more, after
 * the medians of treatment and tray (one pass of Tukey's median polish), in robust standard deviations.
 * `logs`: of each pot, NaN where it has no value above 0.
 */
export function fingerSlips(source: SlipSource, logs: Float64Array): Slip[] {
  const { measurement, pots } = source;
  const known = knownOf(logs);
  if (known.length <= MOST_EARLY) return [];
  const step = 10 ** -measurement.decimals;
  const figures = livingFigures(source);
  const valueOf = (i: number) => figures[i] ?? NaN;
  const { away, sd } = fitOf(source, logs, step);
  const asked = new Set<string>();
  const slip = (i: number, pot: Pot, text: string): Slip => ({
    kind: 'finger-slip',
    potId: pot.id,
    measurementId: measurement.id,
    value: valueOf(i),
    text,
  });
  return pots.flatMap((pot, i): Slip[] => {
    const from = away[i] ?? NaN;
    if (!(Math.abs(from) >= ODD_EXCHANGED * sd) || asked.has(pot.id)) return [];
    const value = valueOf(i);
    const usual = like(value * Math.exp(-from), measurement);
    const says = `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)}`;
    const odd = Math.abs(from) >= ODD * sd;
    const best = (odd ? readings(value, measurement.decimals) : [])
      .map((reading) => ({ ...reading, z: (from + Math.log(reading.value / value)) / sd }))
      .filter(({ z }) => Math.abs(z) <= FITS && ((from / sd) ** 2 - z ** 2) / 2 >= GAIN)
      .sort((a, b) => a.rank - b.rank || Math.abs(a.z) - Math.abs(b.z))[0];
    const beside = potsAround(pots, pot).filter((k) => !Number.isNaN(logs[k] ?? NaN));
    const twin = beside.find((k) => valueOf(k) === value);
    const twinPot = twin === undefined ? undefined : pots[twin];
    if (twinPot && odd && !best) {
      return [
        slip(
          i,
          pot,
          `${says} is the same as in ${twinPot.code} beside it and far from the ${usual} of plants like it. Was one value entered twice?`,
        ),
      ];
    }
    const partner = exchangeWith(i, beside, { away, sd, valueOf });
    if (partner !== null && (!best || best.rank > 0)) {
      const other = pots[partner];
      if (!other) return [];
      asked.add(other.id);
      return [
        slip(
          i,
          pot,
          `${says} and ${sayValue(valueOf(partner), measurement)} in ${other.code} would both fit if exchanged. Was the wrong row or pot read?`,
        ),
      ];
    }
    if (!best) return [];
    const fits = `${says} is far from the ${usual} of plants like it; ${sayValue(best.value, measurement)} would fit`;
    return [slip(i, pot, `${fits}. ${best.asks}`)];
  });
}

const like = (value: number, measurement: SlipSource['measurement']): string =>
  sayValue(roundedTo(value, 3), measurement);

/** How far each value is from what its treatment, tray and start let expect, in logarithms. */
function fitOf(source: SlipSource, logs: Float64Array, step: number) {
  const { pots, before } = source;
  const treatments = treatmentGroups(source);
  const trays = trayGroups(pots);
  const residuals = (of: Float64Array) => without(without(of, treatments), trays);
  const own = residuals(logs);
  // A pot without a start is judged by its value alone.
  const began = before && logsOf(figuresOf(pots, before.values));
  const growth = began && residuals(logs.map((log, i) => log - (began[i] ?? NaN)));
  const grows = growth !== null && spreadOf(growth) < spreadOf(own);
  const away = grows ? growth.map((by, i) => (Number.isNaN(by) ? (own[i] ?? NaN) : by)) : own;
  const middle = Math.exp(medianInPlace(knownOf(logs)));
  // A column of few different values has no less spread than one step.
  return { away, sd: Math.max(spreadOf(away), Math.log1p(step / middle)) };
}

/** Values less the median of their group; what is not known stays so. */
function without(values: Float64Array, groups: Groups): Float64Array {
  const medians = mediansBy(values, groups);
  const left = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++)
    left[i] = (values[i] ?? NaN) - (medians[groups.of[i] ?? 0] ?? NaN);
  return left;
}

/** Robust standard deviation about 0, of the values that are known; none: endless. */
function spreadOf(values: Float64Array): number {
  const known = knownOf(values);
  return known.length <= MOST_EARLY ? Infinity : MAD_TO_SD * medianInPlace(known.map(Math.abs));
}

interface Reading {
  value: number;
  asks: string;
  /** Likelier slips first. */
  rank: number;
}

/** Other values that the same keys may have meant. */
function readings(value: number, decimals: number): Reading[] {
  const text = plainFixed(value, decimals);
  // One digit alone, such as a plant of 0.1 g, holds no other reading.
  if (text.replace(/\D/g, '').replace(/^0+/, '').length < 2) return [];
  const digits = [...text].flatMap((sign, at) => (/\d/.test(sign) ? [at] : []));
  const read = (signs: string) => Number(signs);
  const swapped = digits.flatMap((at, k): Reading[] => {
    const next = digits[k + 1];
    if (next === undefined || text[at] === text[next]) return [];
    // Nobody writes a nought before other digits.
    if (k === 0 && text[next] === '0' && !/^.\./.test(text)) return [];
    const signs = [...text];
    [signs[at], signs[next]] = [signs[next] ?? '', signs[at] ?? ''];
    return [{ value: read(signs.join('')), asks: 'Were two digits swapped?', rank: 0 }];
  });
  const longer = digits.flatMap((at): Reading[] => {
    const rest = text.slice(0, at) + text.slice(at + 1);
    return [{ value: read(rest), asks: 'Is there a digit too many?', rank: 1 }];
  });
  const pointed = [0.1, 10].map((factor): Reading => ({
    value: value * factor,
    asks: 'A point may have slipped.',
    rank: 0,
  }));
  return [...swapped, ...pointed, ...longer].filter((one) => one.value > 0 && one.value !== value);
}

/** The pot beside it with which its value may have been exchanged; null: none. */
function exchangeWith(
  i: number,
  beside: readonly number[],
  of: {
    away: Float64Array;
    sd: number;
    valueOf: (i: number) => number;
  },
): number | null {
  const { away, sd, valueOf } = of;
  let best: { k: number; gain: number } | null = null;
  for (const k of beside) {
    const by = Math.log(valueOf(k) / valueOf(i));
    const was = [away[i] ?? 0, away[k] ?? 0].map((one) => one / sd);
    const is = [(away[i] ?? 0) + by, (away[k] ?? 0) - by].map((one) => one / sd);
    if (is.some((z) => Math.abs(z) > 2)) continue;
    const squares = (list: readonly number[]) => list.reduce((sum, z) => sum + z * z, 0);
    const gain = (squares(was) - squares(is)) / 2;
    if (gain >= EXCHANGE_GAIN && gain > (best?.gain ?? 0)) best = { k, gain };
  }
  return best?.k ?? null;
}
