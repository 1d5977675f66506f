import type { Pot } from '../../engine/geometry';
import { roundedTo } from '../../words';
import { measurementLabel } from '../queries/names';
import { FEWEST_OTHERS } from './factorSlips';
import { sayValue } from './sayValue';
import type { Slip, SlipSource } from './slip';

/**
 * So many times its start value a plant seldom comes to. Some do; then the question is asked of the
 * first few pots only, and goes when there are others to compare with.
 */
const SELDOM_GROWN = 50;

/**
 * The first pots of a harvest, while too few have a value for any to be off the others: those that
 * would have grown more than fifty times. Where the person has said up to where a value is likely,
 * that is the better judge.
 */
export function firstSlips(source: SlipSource, pots: readonly Pot[]): Slip[] {
  const { measurement, values, start } = source;
  if (!start || measurement.highest !== null) return [];
  const kept = pots.filter((pot) => (values[pot.id] ?? 0) > 0);
  if (kept.length > FEWEST_OTHERS) return [];
  return kept.flatMap((pot): Slip[] => {
    const value = values[pot.id] ?? 0;
    const began = start.values[pot.id] ?? 0;
    if (began <= 0 || value < SELDOM_GROWN * began) return [];
    const text =
      `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)} is ` +
      `${roundedTo(value / began, 2)} times the ${sayValue(began, start.measurement)} at the start. ` +
      'A point may have slipped; with more values the others will tell.';
    return [{ kind: 'off-by-factor', potId: pot.id, measurementId: measurement.id, value, text }];
  });
}
