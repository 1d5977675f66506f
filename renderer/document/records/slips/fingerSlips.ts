import type { Pot } from '../../../engine/geometry';
import { plainFixed, roundedTo } from '../../../words';
import { measurementLabel } from '../../queries/names';
import { sayValue } from '../sayValue';
import { MOST_EARLY } from './earlySlips';
import { MAD_TO_SD, medianOfSorted } from './robust';
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
 * `kept`: the pots with a value above 0.
 */
export function fingerSlips(source: SlipSource, kept: readonly Pot[]): Slip[] {
  const { measurement, values } = source;
  if (kept.length <= MOST_EARLY) return [];
  const step = 10 ** -measurement.decimals;
  const valueOf = (pot: Pot) => values[pot.id] ?? NaN;
  const { away, sd, usual } = fitOf(source, kept, step);
  const byHole = new Map(kept.map((pot, i) => [holeOf(pot, pot.row, pot.column), i]));
  const asked = new Set<string>();
  const slip = (pot: Pot, text: string): Slip => ({
    ...{ kind: 'finger-slip', potId: pot.id, measurementId: measurement.id },
    ...{ value: valueOf(pot), text },
  });
  return kept.flatMap((pot, i): Slip[] => {
    const from = away[i] ?? 0;
    if (Math.abs(from) < ODD_EXCHANGED * sd || asked.has(pot.id)) return [];
    const value = valueOf(pot);
    const says = `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)}`;
    const odd = Math.abs(from) >= ODD * sd;
    const best = (odd ? readings(value, measurement.decimals) : [])
      .map((reading) => ({ ...reading, z: (from + Math.log(reading.value / value)) / sd }))
      .filter(({ z }) => Math.abs(z) <= FITS && ((from / sd) ** 2 - z ** 2) / 2 >= GAIN)
      .sort((a, b) => a.rank - b.rank || Math.abs(a.z) - Math.abs(b.z))[0];
    const beside = around(pot, byHole);
    const twin = beside.find((k) => kept[k] && valueOf(kept[k]) === value);
    const twinPot = twin === undefined ? undefined : kept[twin];
    if (twinPot && odd && !best) {
      return [
        slip(
          pot,
          `${says} is the same as in ${twinPot.code} beside it and far from the ${like(usual[i], measurement)} of plants like it. Was one value entered twice?`,
        ),
      ];
    }
    const partner = exchangeWith(i, beside, { away, sd, kept, valueOf });
    if (partner !== null && (!best || best.rank > 0)) {
      const other = kept[partner];
      if (!other) return [];
      asked.add(other.id);
      return [
        slip(
          pot,
          `${says} and ${sayValue(valueOf(other), measurement)} in ${other.code} would both fit if exchanged. Was the wrong row or pot read?`,
        ),
      ];
    }
    if (!best) return [];
    const fits = `${says} is far from the ${like(usual[i], measurement)} of plants like it; ${sayValue(best.value, measurement)} would fit`;
    return [slip(pot, `${fits}. ${best.asks}`)];
  });
}

const like = (value: number | undefined, measurement: SlipSource['measurement']): string =>
  sayValue(roundedTo(value ?? NaN, 3), measurement);

/** How far each value is from what its treatment, tray and start let expect, in logarithms. */
function fitOf({ values, before, treatmentOf }: SlipSource, kept: readonly Pot[], step: number) {
  const logs = kept.map(({ id }) => Math.log(values[id] ?? NaN));
  const treatments = kept.map(({ id }) => treatmentOf?.get(id) ?? '');
  const trays = kept.map(({ trayId }) => trayId);
  const residuals = (of: readonly number[]) => without(without(of, treatments), trays);
  const own = residuals(logs);
  const began = kept.map(({ id }) => before?.values[id] ?? 0);
  // A pot without a start is judged by its value alone.
  const growth = before
    ? residuals(logs.map((log, i) => log - Math.log(began[i] || NaN)))
    : own.map(() => NaN);
  const grows = spreadOf(growth) < spreadOf(own);
  const away = own.map((by, i) => {
    const other = growth[i] ?? NaN;
    return grows && !Number.isNaN(other) ? other : by;
  });
  const middle = Math.exp(medianOf(logs));
  return {
    away,
    // A column of few different values has no less spread than one step.
    sd: Math.max(spreadOf(away), Math.log1p(step / middle)),
    usual: kept.map((pot, i) => (values[pot.id] ?? NaN) * Math.exp(-(away[i] ?? 0))),
  };
}

/** Values less the median of their group; what is not known stays so. */
function without(values: readonly number[], groups: readonly string[]): number[] {
  const lists = new Map<string, number[]>();
  for (const [i, value] of values.entries()) {
    if (Number.isNaN(value)) continue;
    const list = lists.get(groups[i] ?? '');
    if (list) list.push(value);
    else lists.set(groups[i] ?? '', [value]);
  }
  const medians = new Map([...lists].map(([group, list]) => [group, medianOf(list)]));
  return values.map((value, i) => value - (medians.get(groups[i] ?? '') ?? 0));
}

const medianOf = (values: readonly number[]): number =>
  medianOfSorted(Float64Array.from(values).sort());

/** Robust standard deviation about 0, of the values that are known; none: endless. */
function spreadOf(values: readonly number[]): number {
  const known = values.filter((value) => !Number.isNaN(value));
  return known.length <= MOST_EARLY ? Infinity : MAD_TO_SD * medianOf(known.map(Math.abs));
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
    away: readonly number[];
    sd: number;
    kept: readonly Pot[];
    valueOf: (pot: Pot) => number;
  },
): number | null {
  const { away, sd, kept, valueOf } = of;
  const pot = kept[i];
  let best: { k: number; gain: number } | null = null;
  for (const k of beside) {
    const other = kept[k];
    if (!pot || !other) continue;
    const by = Math.log(valueOf(other) / valueOf(pot));
    const was = [away[i] ?? 0, away[k] ?? 0].map((one) => one / sd);
    const is = [(away[i] ?? 0) + by, (away[k] ?? 0) - by].map((one) => one / sd);
    if (is.some((z) => Math.abs(z) > 2)) continue;
    const squares = (list: readonly number[]) => list.reduce((sum, z) => sum + z * z, 0);
    const gain = (squares(was) - squares(is)) / 2;
    if (gain >= EXCHANGE_GAIN && gain > (best?.gain ?? 0)) best = { k, gain };
  }
  return best?.k ?? null;
}

const holeOf = ({ trayId }: Pot, row: number, column: number): string =>
  `${trayId} ${row} ${column}`;

/** The numbers of the up to eight pots around one. */
function around(pot: Pot, byHole: ReadonlyMap<string, number>): number[] {
  const found: number[] = [];
  for (let r = pot.row - 1; r <= pot.row + 1; r++) {
    for (let c = pot.column - 1; c <= pot.column + 1; c++) {
      const k = r === pot.row && c === pot.column ? undefined : byHole.get(holeOf(pot, r, c));
      if (k !== undefined) found.push(k);
    }
  }
  return found;
}
