import type { Pot } from '../../engine/geometry';
import { measurementLabel } from '../queries/names';
import { MAD_TO_SD, medianOfSorted, medianWithout } from './robust';
import { sayValue } from './sayValue';
import type { Slip, SlipSource } from './slip';

/** A value so many times that of the others, or as small a part, looks like a slipped point. */
const POT_FACTOR = 5;
/** The other of weight and growth has to be as far out as this, or a large plant is just large. */
const SUPPORT_FACTOR = 2.5;
/** How many robust standard deviations, on the scale of logarithms, a value has to be away. */
const FAR = 5;
/** With fewer others nothing can be said. */
const FEWEST_OTHERS = 3;

/** Values on the scale of logarithms, and as sorted lists to compare with. */
interface Sample {
  sorted: Float64Array;
  sd: number;
}

/**
 * Pots whose value is at least five times that of the others, or a fifth: of those in their tray
 * and of those with their treatment anywhere, so that neither a bright tray nor a strong treatment
 * is asked about. Where the pots have a start value, the growth has to be out in the same way: all
 * plants may grow tenfold, and a plant that began large may end large. Too far means beyond five
 * robust standard deviations (1.4826 × median absolute deviation) of logarithms, as well.
 * Unlike the look at the neighbours it serves the corners of a tray and the first pots recorded.
 */
export function factorSlips(source: SlipSource, pots: readonly Pot[]): Slip[] {
  const { measurement, values, start, treatmentOf } = source;
  if (measurement.kind === 'score') return [];
  const step = 10 ** -measurement.decimals;
  const kept = pots.filter((pot) => (values[pot.id] ?? 0) > 0);
  if (kept.length <= FEWEST_OTHERS) return [];
  const weights = kept.map((pot) => Math.log(values[pot.id] ?? 1));
  const growth = kept.map((pot, i) => {
    const before = start?.values[pot.id] ?? 0;
    return before > 0 ? (weights[i] ?? 0) - Math.log(before) : NaN;
  });
  const trays = kept.map((pot) => pot.trayId);
  const treatments = kept.map((pot) => treatmentOf?.get(pot.id) ?? '');
  const judges = [weights, growth].map((logs) => {
    const [byTray, byTreatment] = [trays, treatments].map((keys) => samplesBy(keys, logs));
    const all = sampleOf(logs.filter((x) => !Number.isNaN(x)));
    return (i: number): { by: number; far: boolean; middle: number } | null => {
      const x = logs[i] ?? NaN;
      if (Number.isNaN(x)) return null;
      const found = [byTray?.get(trays[i] ?? ''), byTreatment?.get(treatments[i] ?? '')].map(
        (sample) => (sample && sample.sorted.length > FEWEST_OTHERS ? sample : all),
      );
      const aways = found.map((sample) => {
        const middle = medianWithout(sample.sorted, x);
        return { middle, by: x - middle, far: Math.abs(x - middle) > FAR * sample.sd };
      });
      const [tray, treatment] = aways;
      if (!tray || !treatment || Math.sign(tray.by) !== Math.sign(treatment.by)) return null;
      const nearer = Math.abs(tray.by) < Math.abs(treatment.by) ? tray : treatment;
      return { by: nearer.by, far: tray.far && treatment.far, middle: tray.middle };
    };
  });
  const [ofWeight, ofGrowth] = judges;
  return kept.flatMap((pot, i): Slip[] => {
    const weight = ofWeight?.(i);
    if (!weight) return [];
    const own = Math.abs(weight.by);
    const value = values[pot.id] ?? 0;
    if (Math.abs(value - Math.exp(weight.middle)) <= FAR * step) return [];
    const grown = Number.isNaN(growth[i] ?? NaN) ? null : ofGrowth?.(i);
    const other =
      grown === null
        ? own
        : Math.sign(grown?.by ?? 0) === Math.sign(weight.by)
          ? Math.abs(grown?.by ?? 0)
          : 0;
    const [most, least] = [Math.max(own, other), Math.min(own, other)];
    const far = own >= other ? weight.far : (grown?.far ?? false);
    if (most < Math.log(POT_FACTOR) || least < Math.log(SUPPORT_FACTOR) || !far) return [];
    const middle = Number(Math.exp(weight.middle).toPrecision(3));
    const before = start?.values[pot.id];
    const began =
      before === undefined ? '' : `, from ${sayValue(before, measurement)} at the start`;
    const text =
      `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)}${began}; ` +
      `the others of its tray have ${sayValue(middle, measurement)} in the middle. A point may have slipped.`;
    return [{ kind: 'off-by-factor', potId: pot.id, measurementId: measurement.id, value, text }];
  });
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
  const middle = medianOfSorted(sorted);
  const away = sorted.map((x) => Math.abs(x - middle)).sort();
  return { sorted, sd: MAD_TO_SD * medianOfSorted(away) };
}
