import type { Assignment } from '../../../shared-types/layout';
import type { Swap } from '../../../shared-types/run';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import { Refusal } from '../../words';
import { asApplied } from './applied';
import { unitIdOf, type TrialPot } from './site/trialPot';

/** Another run's draw, by which this one's is bound. */
export interface BoundBy {
  swap: Swap;
  /** What each pot was given there. */
  assignments: readonly Assignment[];
}

/**
 * The trial with the factors on the swapped factor's units as the other run's draw has them, so that
 * nothing is left to chance there: the swapped one moved on in its list of levels, the others where
 * they were. Throws where a unit was not part of that draw, or nothing can be swapped.
 */
export function boundTrial(
  trial: Trial,
  { swap, assignments }: BoundBy,
  pots: readonly TrialPot[],
): Trial {
  const { unit } = factorIn(asApplied(trial, pots).trial, swap.factorId);
  if (unit === 'row-strip' || unit === 'column-strip' || unit === 'pot') {
    throw new Refusal(
      `a swapped run: the levels stand on a ${unit}; whole trays, bays, reservoirs or shelves are expected`,
    );
  }
  const before = new Map(assignments.map(({ potId, levels }) => [potId, levels]));
  const byUnit = new Map<string, Assignment['levels']>();
  for (const pot of pots) {
    const levels = before.get(pot.id);
    if (levels) byUnit.set(unitIdOf(pot, unit), levels);
  }
  const strange = pots.find((pot) => !byUnit.has(unitIdOf(pot, unit)));
  if (strange) {
    throw new Refusal(
      `a swapped run: pot ${strange.code} stands on a ${unit} that the run before did not have; the same ones are expected`,
    );
  }
  const factors = asApplied(trial, pots).trial.factors.map((factor): Factor => {
    if (factor.unit !== unit) return factor;
    const step = factor.id === swap.factorId ? swap.step : 0;
    const where = [...byUnit].flatMap(([unitId, levels]) => {
      const levelId = movedOn(factor, levels[factor.id], step);
      return levelId === null ? [] : [{ unitId, levelId }];
    });
    return { ...factor, kind: 'fixed', where };
  });
  return { ...trial, factors };
}

/** The level that comes so many places later in the list, the first after the last. */
function movedOn({ levels }: Factor, from: string | undefined, step: number): string | null {
  const at = levels.findIndex(({ id }) => id === from);
  return at < 0 ? null : (levels[(at + step) % levels.length]?.id ?? null);
}

function factorIn(trial: Trial, id: string): Factor {
  const factor = trial.factors.find((one) => one.id === id);
  if (!factor) throw new Refusal('a swapped run: its factor is gone from the trial');
  return factor;
}
