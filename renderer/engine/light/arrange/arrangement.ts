import type { Lamp } from '../../../../shared-types/rack';
import type { GroupScale } from '../calibration';
import type { Evenness } from '../evenness';

/** Lamps as they hang or could hang, and what the pots get. */
export interface Arrangement {
  lamps: Omit<Lamp, 'id'>[];
  evenness: Evenness;
  /** What readings say that the lamps give, by group; none where they say nothing. */
  scales: readonly GroupScale[];
  /** Whether the mean is the target (within 1 %). */
  meetsTarget: boolean;
}

// What dimmers of their own must gain in min:mean to be worth setting.
const WORTH_DIMMING = 0.01;

/** Meeting the target comes first, then evenness; short of it the brighter one. Ties: the first. */
export function better<A extends Arrangement>(a: A | null, b: A): A;
export function better<A extends Arrangement>(a: A, b: A | null): A;
export function better<A extends Arrangement>(a: A | null, b: A | null): A | null {
  if (!a || !b) return a ?? b;
  if (a.meetsTarget !== b.meetsTarget) return a.meetsTarget ? a : b;
  if (!a.meetsTarget) return b.evenness.mean > a.evenness.mean ? b : a;
  return (b.evenness.minToMean ?? 0) > (a.evenness.minToMean ?? 0) ? b : a;
}

/** Rows each dimmed by itself, taken where they gain enough over lamps dimmed alike. */
export function betterByMuch<A extends Arrangement>(alike: A, own: A): A {
  if (!own.meetsTarget) return alike;
  const gain = (own.evenness.minToMean ?? 0) - (alike.evenness.minToMean ?? 0);
  const wasOwn = new Set(alike.lamps.map((lamp) => lamp.dimming)).size > 1;
  return !alike.meetsTarget || gain > (wasOwn ? 0 : WORTH_DIMMING) ? own : alike;
}
