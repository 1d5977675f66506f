import type { Pot } from '../../../engine/geometry';
import { roundedTo } from '../../../words';
import { measurementLabel } from '../../queries/names';
import { MAD_TO_SD, medianOfSorted, medianWithout } from './robust';
import { sayWhenTaken, sayValue } from '../sayValue';
import { alive } from './slip';
import type { ColumnSource, Slip, SlipSource } from './slip';

/** A value so many times that of the others, or as small a part, looks like a slipped point. */
const POT_FACTOR = 5;
/** The other of weight and growth has to be as far out as this, or a large plant is just large. */
const SUPPORT_FACTOR = 2.5;
/** How many robust standard deviations, on the scale of logarithms, a value has to be away. */
const FAR = 5;
/** Of so few steps of the last decimal nothing is asked. */
export const FEW_STEPS = 5;
/** With fewer others nothing can be said of a value by looking at them. */
const FEWEST_OTHERS = 3;

/** Values on the scale of logarithms, in ascending order, and their robust standard deviation. */
interface Sample {
  sorted: Float64Array;
  sd: () => number;
}

/**
 * Pots whose value is at least five times that of the others, or a fifth: of those in their tray
 * and of those with their treatment anywhere, so that neither a bright tray nor a strong treatment
 * is asked about. Where the pots have a start value, the growth has to be out in the same way: all
 * plants may grow tenfold, and a plant that began large may end large. Too far means beyond five
 * robust standard deviations (1.4826 × median absolute deviation) of logarithms, as well, in the
 * tray or in the treatment: a tray of several treatments is spread wide by them.
 * Unlike the look at the neighbours it serves the corners of a tray. `weights`: what
 * stands out in the column, where it is known.
 */
export function factorSlips(source: SlipSource, weights = outlyingOf(source)): Slip[] {
  const { measurement, values, before, treatmentOf } = source;
  const step = 10 ** -measurement.decimals;
  const { kept, logs, outlying } = weights;
  const began = (one: Pot) => before?.values[one.id] ?? 0;
  // Most columns hold nothing that is far off, and then growth is not looked at.
  const growth = once(() =>
    judgeOf(
      kept.map((one, k) => (began(one) > 0 ? (logs[k] ?? NaN) - Math.log(began(one)) : NaN)),
      kept.map((pot) => pot.trayId),
      () => kept.map((pot) => treatmentOf?.get(pot.id) ?? ''),
    ),
  );
  return outlying.flatMap(({ pot, i, away: weight }): Slip[] => {
    const value = values[pot.id] ?? 0;
    if (Math.abs(value - Math.exp(weight.middle)) <= FEW_STEPS * step) return [];
    const other = began(pot) > 0 ? growth()(i) : weight;
    if (!other || other.by * Math.sign(weight.by) < Math.log(SUPPORT_FACTOR)) return [];
    const most = Math.abs(other.by) > Math.abs(weight.by) ? other : weight;
    if (Math.abs(most.by) < Math.log(POT_FACTOR) || !most.far) return [];
    const middle = roundedTo(Math.exp(weight.middle), 3);
    const was = before?.values[pot.id];
    const from =
      !before || was === undefined
        ? ''
        : `, from ${sayValue(was, before.measurement)} ${sayWhenTaken(before.measurement)}`;
    const text =
      `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)}${from}; ` +
      `the others have ${sayValue(middle, measurement)} in the middle. A point may have slipped.`;
    return [{ kind: 'off-by-factor', potId: pot.id, measurementId: measurement.id, value, text }];
  });
}

/** The pots of a column with a value above 0, its logarithms, and which stand out by themselves. */
export interface Outlying {
  kept: readonly Pot[];
  logs: readonly number[];
  outlying: readonly { pot: Pot; i: number; away: Away }[];
}

/** What stands out in a column by its own values, whatever was measured before. */
export function outlyingOf(source: ColumnSource): Outlying {
  const { values, treatmentOf } = source;
  const kept = alive(source).filter(({ id }) => (values[id] ?? 0) > 0);
  const logs = kept.map(({ id }) => Math.log(values[id] ?? 1));
  const judge = judgeOf(
    logs,
    kept.map((pot) => pot.trayId),
    once(() => kept.map((pot) => treatmentOf?.get(pot.id) ?? '')),
  );
  const outlying = kept.flatMap((pot, i) => {
    const away = judge(i);
    return away && Math.abs(away.by) >= Math.log(SUPPORT_FACTOR) ? [{ pot, i, away }] : [];
  });
  return { kept, logs, outlying };
}

/** How far a pot is from the others of its tray or treatment, whichever is nearer; in logarithms. */
interface Away {
  by: number;
  far: boolean;
  /** The middle of its tray. */
  middle: number;
}
type Judge = (i: number) => Away | null;

/**
 * `trays`, `treatments`: of each value; NaN: none. Null where the two disagree, or where the tray
 * alone shows that the value is not far off: only then is the rest looked at, because every typed
 * value asks about its whole column.
 */
function judgeOf(
  logs: readonly number[],
  trays: readonly string[],
  treatments: () => readonly string[],
): Judge {
  const byTray = samplesBy(trays, logs);
  const byTreatment = once(() => samplesBy(treatments(), logs));
  const all = once(() => sampleOf(logs.filter((x) => !Number.isNaN(x))));
  const middleOf = (sample: Sample | undefined, x: number) => {
    const among = sample && sample.sorted.length > FEWEST_OTHERS ? sample : all();
    const middle = medianWithout(among.sorted, x);
    return { among, middle, by: x - middle };
  };
  return (i) => {
    const x = logs[i] ?? NaN;
    if (Number.isNaN(x)) return null;
    const tray = middleOf(byTray.get(trays[i] ?? ''), x);
    if (Math.abs(tray.by) < Math.log(SUPPORT_FACTOR)) return null;
    const treatment = middleOf(byTreatment().get(treatments()[i] ?? ''), x);
    if (Math.sign(tray.by) !== Math.sign(treatment.by)) return null;
    const { by } = Math.abs(tray.by) < Math.abs(treatment.by) ? tray : treatment;
    const far = [tray, treatment].some((one) => Math.abs(one.by) > FAR * one.among.sd());
    return { by, far, middle: tray.middle };
  };
}

function once<T extends object>(make: () => T): () => T {
  let made: T | null = null;
  return () => (made ??= make());
}

function samplesBy(keys: readonly string[], logs: readonly number[]): Map<string, Sample> {
  const lists = new Map<string, number[]>();
  for (const [i, key] of keys.entries()) {
    const x = logs[i] ?? NaN;
    if (Number.isNaN(x)) continue;
    const list = lists.get(key);
    if (list) list.push(x);
    else lists.set(key, [x]);
  }
  return new Map([...lists].map(([key, list]) => [key, sampleOf(list)]));
}

function sampleOf(values: readonly number[]): Sample {
  const sorted = Float64Array.from(values).sort();
  const sd = () => {
    const middle = medianOfSorted(sorted);
    return MAD_TO_SD * medianOfSorted(sorted.map((x) => Math.abs(x - middle)).sort());
  };
  return { sorted, sd };
}
