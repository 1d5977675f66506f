import type { Layout } from '../../../shared-types/layout';
import { smallestUnitOf } from '../../../shared-types/trial/trial';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import { isNested, membersOf } from './site/partition';
import { partitionInto, unitIdOf, type PlacedUnit, type TrialPot } from './site/trialPot';

/** A factor some of whose units, or levels, share what it is applied through. */
export interface SharedCarrier {
  factor: Factor;
  carrier: PlacedUnit;
  /** Measured pots of each carrier that is shared. */
  pots: TrialPot[][];
  /** Whether two levels stand on one carrier already: placed by hand, or drawn. */
  mixed: boolean;
}

export interface AppliedTrial {
  /** The factors on the units that can in truth differ; the trial itself where all do. */
  trial: Trial;
  shared: SharedCarrier[];
}

/**
 * The trial with no factor on a unit smaller than what it is applied through: lamps serve a whole
 * bay, a reservoir its whole zone, whatever is said of trays and pots. A factor that already has two
 * levels on one carrier stays on its unit: what was done is not to be judged as what was meant.
 */
export function asApplied(
  trial: Trial,
  pots: readonly TrialPot[],
  layout: Pick<Layout, 'assignments'> | null = null,
): AppliedTrial {
  const shared: SharedCarrier[] = [];
  const factors = trial.factors.map((factor) => {
    const carrier = coarserCarrier(factor, pots);
    if (!carrier) return factor;
    const levels = levelsAt(factor, pots, layout);
    const carriers = membersOf(partitionInto(carrier, pots)).map((own) =>
      own.flatMap((i) => pots[i] ?? []),
    );
    const holdsSeveral = (own: readonly TrialPot[], of: (pot: TrialPot) => string | undefined) =>
      new Set(own.map(of)).size > 1;
    const mixed = carriers.filter((own) => holdsSeveral(own, (pot) => levels?.get(pot.id)));
    const meant = carriers.filter((own) => holdsSeveral(own, (pot) => unitIdOf(pot, factor.unit)));
    const told = levels ? mixed : meant;
    if (told.length > 0) shared.push({ factor, carrier, pots: told, mixed: mixed.length > 0 });
    return mixed.length > 0
      ? factor
      : { ...factor, unit: carrier, where: placesOf(factor, carrier, pots) };
  });
  const same = factors.every((factor, i) => factor === trial.factors[i]);
  return { trial: same ? trial : { ...trial, factors }, shared };
}

/** What a factor is applied through, where that is coarser than the unit it is said to stand on. */
function coarserCarrier(factor: Factor, pots: readonly TrialPot[]): PlacedUnit | null {
  if (factor.appliedThrough === undefined) return null;
  const smallest = smallestUnitOf[factor.appliedThrough];
  // Where no board parts a shelf, its bay is the shelf.
  const whole = partitionInto('bay', pots).count === partitionInto('shelf', pots).count;
  const carrier = smallest === 'bay' && whole ? 'shelf' : smallest;
  if (carrier === 'pot' || factor.unit === carrier) return null;
  const carriers = partitionInto(carrier, pots);
  if (factor.unit === 'row-strip' || factor.unit === 'column-strip') return carrier;
  // A unit that holds whole carriers can be treated as one.
  return isNested(carriers, partitionInto(factor.unit, pots)) ? null : carrier;
}

/** Level id of each pot, where the factor has them: fixed by hand, or drawn. */
function levelsAt(
  factor: Factor,
  pots: readonly TrialPot[],
  layout: Pick<Layout, 'assignments'> | null,
): Map<string, string | undefined> | null {
  if (layout) {
    return new Map(layout.assignments.map(({ potId, levels }) => [potId, levels[factor.id]]));
  }
  if (factor.kind === 'randomised') return null;
  const byUnit = new Map(factor.where.map(({ unitId, levelId }) => [unitId, levelId]));
  return new Map(pots.map((pot) => [pot.id, byUnit.get(unitIdOf(pot, factor.unit))]));
}

/** The places of a fixed factor, said of carriers in place of the units they hold. */
function placesOf(factor: Factor, carrier: PlacedUnit, pots: readonly TrialPot[]): Factor['where'] {
  const byUnit = new Map(factor.where.map(({ unitId, levelId }) => [unitId, levelId]));
  const places = new Map<string, string>();
  for (const pot of pots) {
    const levelId = byUnit.get(unitIdOf(pot, factor.unit));
    if (levelId !== undefined) places.set(unitIdOf(pot, carrier), levelId);
  }
  return [...places].map(([unitId, levelId]) => ({ unitId, levelId }));
}
