import type { Pot } from '../../../engine/geometry';
import { roundedTo } from '../../../words';
import { measurementLabel } from '../../queries/names';
import {
  figuresOf,
  groupedInOrder,
  knownOf,
  livingFigures,
  logsOf,
  sdOfSorted,
  trayGroups,
  treatmentGroups,
} from './column';
import { medianWithout } from './robust';
import { sayWhenTaken, sayValue } from '../sayValue';
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
  const { measurement, pots, before } = source;
  const step = 10 ** -measurement.decimals;
  const { logs, outlying } = weights;
  const values = livingFigures(source);
  const began = before && figuresOf(pots, before.values);
  // Most columns hold nothing that is far off, and then growth is not looked at.
  const growth = once(() => {
    const start = began && logsOf(began);
    return judgeOf(
      source,
      logs.map((log, i) => log - (start?.[i] ?? NaN)),
    );
  });
  return outlying.flatMap(({ pot, i, away: weight }): Slip[] => {
    const value = values[i] ?? 0;
    if (Math.abs(value - Math.exp(weight.middle)) <= FEW_STEPS * step) return [];
    const other = (began?.[i] ?? 0) > 0 ? growth()(i) : weight;
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

/** The logarithms of a column, and which pots stand out by themselves. */
export interface Outlying {
  /** Of each pot; NaN: no value above 0, or a dead plant. */
  logs: Float64Array;
  outlying: readonly { pot: Pot; i: number; away: Away }[];
}

/** What stands out in a column by its own values, whatever was measured before. */
export function outlyingOf(source: ColumnSource): Outlying {
  const logs = logsOf(livingFigures(source));
  const judge = judgeOf(source, logs);
  const outlying = source.pots.flatMap((pot, i) => {
    const away = judge(i);
    return away && Math.abs(away.by) >= Math.log(SUPPORT_FACTOR) ? [{ pot, i, away }] : [];
  });
  return { logs, outlying };
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
 * Null where tray and treatment disagree, or where the tray alone shows that the value is not far off:
 * only then is the rest looked at, because every typed value asks about its whole column.
 */
function judgeOf(source: Pick<ColumnSource, 'pots' | 'treatmentOf'>, logs: Float64Array): Judge {
  const trays = trayGroups(source.pots);
  const byTray = groupedInOrder(logs, trays);
  const samples = trays.names.map((_name, g) => byTray.one(g));
  const treatments = once(() => treatmentGroups(source));
  const byTreatment = once(() => groupedInOrder(logs, treatments()));
  const all = once(() => knownOf(logs).sort());
  const middleOf = (sample: Float64Array | undefined, x: number) => {
    const among = sample && sample.length > FEWEST_OTHERS ? sample : all();
    const middle = medianWithout(among, x);
    return { among, middle, by: x - middle };
  };
  return (i) => {
    const x = logs[i] ?? NaN;
    if (Number.isNaN(x)) return null;
    const tray = middleOf(samples[trays.of[i] ?? 0], x);
    if (Math.abs(tray.by) < Math.log(SUPPORT_FACTOR)) return null;
    const treatment = middleOf(byTreatment().one(treatments().of[i] ?? 0), x);
    if (Math.sign(tray.by) !== Math.sign(treatment.by)) return null;
    const { by } = Math.abs(tray.by) < Math.abs(treatment.by) ? tray : treatment;
    const far = [tray, treatment].some((one) => Math.abs(one.by) > FAR * sdOfSorted(one.among));
    return { by, far, middle: tray.middle };
  };
}

function once<T extends object>(make: () => T): () => T {
  let made: T | null = null;
  return () => (made ??= make());
}
