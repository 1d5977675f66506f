import type { Factor } from '../../../shared-types/trial/trial';
import type { Pot } from '../geometry';

export type LightUnit = 'shelf' | 'bay';

/** The unit whose mean light a light treatment sets; null where no factor is applied through light. */
export function lightUnitOf(
  factors: readonly Pick<Factor, 'appliedThrough' | 'unit'>[],
): LightUnit | null {
  const lit = factors.filter((factor) => factor.appliedThrough === 'light');
  if (lit.length === 0) return null;
  return lit.every((factor) => factor.unit === 'shelf') ? 'shelf' : 'bay';
}

/**
 * The light at each pot as a covariate, for blocks and for balance. Where the light is a treatment,
 * what differs between its units is the treatment itself and is taken out: PPFD less the mean of the
 * pot's unit, plus the mean of all (µmol m⁻² s⁻¹), both over `pots`. Else the light as it is.
 */
export function lightWithin(
  factors: readonly Factor[],
  pots: readonly Pick<Pot, 'id' | 'shelfId' | 'bayId'>[],
  ppfdByPot: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const unit = lightUnitOf(factors);
  if (!unit) return ppfdByPot;
  const unitOf = ({ shelfId, bayId }: Pick<Pot, 'shelfId' | 'bayId'>): string =>
    unit === 'shelf' ? shelfId : bayId;
  const units = new Map<string, { sum: number; count: number }>();
  const all = { sum: 0, count: 0 };
  for (const pot of pots) {
    const value = ppfdByPot.get(pot.id);
    if (value === undefined) continue;
    const own = units.get(unitOf(pot)) ?? { sum: 0, count: 0 };
    units.set(unitOf(pot), own);
    for (const mean of [own, all]) {
      mean.sum += value;
      mean.count += 1;
    }
  }
  const within = new Map<string, number>();
  for (const pot of pots) {
    const value = ppfdByPot.get(pot.id);
    const own = units.get(unitOf(pot));
    if (value === undefined || !own) continue;
    within.set(pot.id, value - own.sum / own.count + all.sum / all.count);
  }
  return within;
}
