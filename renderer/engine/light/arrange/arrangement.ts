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
export function better(a: Arrangement | null, b: Arrangement): Arrangement;
export function better(a: Arrangement, b: Arrangement | null): Arrangement;
export function better(a: Arrangement | null, b: Arrangement | null): Arrangement | null {
  if (!a || !b) return a ?? b;
  if (a.meetsTarget !== b.meetsTarget) return a.meetsTarget ? a : b;
  if (!a.meetsTarget) return b.evenness.mean > a.evenness.mean ? b : a;
  return (b.evenness.minToMean ?? 0) > (a.evenness.minToMean ?? 0) ? b : a;
}

/** Rows each dimmed by itself, taken where they gain enough over lamps dimmed alike. */
export function betterByMuch(alike: Arrangement, own: Arrangement): Arrangement {
  if (!own.meetsTarget) return alike;
  const gain = (own.evenness.minToMean ?? 0) - (alike.evenness.minToMean ?? 0);
  const wasOwn = new Set(alike.lamps.map((lamp) => lamp.dimming)).size > 1;
  return !alike.meetsTarget || gain > (wasOwn ? 0 : WORTH_DIMMING) ? own : alike;
}

/**
 * All lamps dimmed or turned up alike, as far as the brightest of them can go. `othersUmol` is the
 * mean that comes from lamps which stay as they are.
 */
export function dimmedToTarget(
  given: Arrangement,
  targetMeanUmol: number,
  othersUmol: number,
  judge: (lamps: Omit<Lamp, 'id'>[]) => Arrangement,
): Arrangement {
  const brightest = Math.max(...given.lamps.map((lamp) => lamp.dimming));
  const own = given.evenness.mean - othersUmol;
  if (!(brightest > 0 && own > 0)) return given;
  const wanted = Math.max(0, targetMeanUmol - othersUmol);
  const factor = Math.min(wanted / own, 1 / brightest);
  return judge(given.lamps.map((lamp) => ({ ...lamp, dimming: lamp.dimming * factor })));
}
