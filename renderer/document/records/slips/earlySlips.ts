import type { Pot } from '../../../engine/geometry';
import { roundedTo, fieldNumber } from '../../../words';
import { measurementLabel } from '../../queries/names';
import { FEW_STEPS } from './factorSlips';
import { medianOfSorted, medianWithout } from './robust';
import { sayWhenTaken, sayValue } from '../sayValue';
import type { Slip, SlipSource } from './slip';
import { slipChances } from './slipChances';

/** Up to so many values a column has only begun: their spread cannot be told from them alone. */
export const MOST_EARLY = 12;
/** A question asked for nothing costs a glance, one not asked a slipped value: asked from here on. */
const LIKELY = 0.2;
/** Of two values alone nobody can tell which has slipped: each with such a share is asked about. */
const SHARE = 0.25;

/**
 * The first values of a column: held against each other, against the growth since they were measured
 * before, and against what plants and treatments usually do. A later value can thus show that an
 * earlier one slipped. A pot not measured before is taken for one in the middle of those that were.
 * `kept`: the pots with a value above 0.
 */
export function earlySlips(source: SlipSource, kept: readonly Pot[]): Slip[] {
  const { measurement, values, before, treatmentOf } = source;
  const valueOf = (pot: Pot) => values[pot.id] ?? NaN;
  const earlier = before && Object.values(before.values).filter((value) => value > 0);
  const usual = earlier?.length ? medianOfSorted(Float64Array.from(earlier).sort()) : null;
  const began = (pot: Pot) => {
    const own = before?.values[pot.id] ?? 0;
    return own > 0 ? own : (usual ?? 1);
  };
  const chances = slipChances(
    kept.map((pot) => ({
      log: Math.log(valueOf(pot) / began(pot)),
      treatment: treatmentOf?.get(pot.id) ?? pot.id,
      tray: pot.trayId,
    })),
    // Where the person has said how large a value may be, that is the better judge.
    usual !== null && measurement.highest === null,
  );
  const any = chances.reduce((sum, chance) => sum + chance, 0);
  if (any < LIKELY) return [];
  const sorted = Float64Array.from(kept, valueOf).sort();
  const step = 10 ** -measurement.decimals;
  return kept.flatMap((pot, i): Slip[] => {
    if ((chances[i] ?? 0) < SHARE * any) return [];
    const value = valueOf(pot);
    // That a plant has shrunk is asked about by itself.
    if (kept.length === 1 && value < began(pot)) return [];
    const others = medianWithout(sorted, value);
    if (Math.abs(value - others) <= FEW_STEPS * step) return [];
    const text = `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)}${asked(source, pot, kept.length, others)}`;
    return [{ kind: 'off-by-factor', potId: pot.id, measurementId: measurement.id, value, text }];
  });
}

/** What a value is off from, and that a point may have slipped. */
function asked(
  { measurement, values, before }: SlipSource,
  pot: Pot,
  many: number,
  others: number,
): string {
  const own = before?.values[pot.id];
  const said =
    before && own !== undefined
      ? `${sayValue(own, before.measurement)} ${sayWhenTaken(before.measurement)}`
      : null;
  if (many === 1) {
    const times = roundedTo((values[pot.id] ?? NaN) / (own ?? NaN), 2);
    const grown =
      said === null ? ' is a lot for one plant' : ` is ${fieldNumber(times)} times the ${said}`;
    return `${grown}. A point may have slipped; with more values the others will tell.`;
  }
  const from = said === null ? '' : `, from ${said}`;
  const middle = sayValue(roundedTo(others, 3), measurement);
  return many === 2
    ? `${from}; the other pot has ${middle}. A point may have slipped in one of them.`
    : `${from}; the others have ${middle} in the middle. A point may have slipped.`;
}
