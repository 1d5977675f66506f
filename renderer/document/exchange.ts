import type { Layout } from '../../shared-types/layout';
import type { Plan } from '../../shared-types/plan';
import type { Factor } from '../../shared-types/trial/trial';

/** What an exchange of two pots touches: the drawn places and the places of given factors. */
export interface Placed {
  assignments: Layout['assignments'];
  factors: Factor[];
}

/**
 * Two plants change places: each takes its code and the levels of all factors applied to single
 * pots along; block and the levels of shelf and tray stay with the place.
 */
export function exchangePlants({ assignments, factors }: Placed, a: string, b: string): Placed {
  const potFactors = factors.filter((factor) => factor.unit === 'pot');
  const other = new Map([
    [a, b],
    [b, a],
  ]);
  return {
    assignments: assignments.map((assignment) => {
      const from = assignments.find((x) => x.potId === other.get(assignment.potId));
      if (!from) return assignment;
      const levels = { ...assignment.levels };
      for (const { id } of potFactors) {
        const level = from.levels[id];
        if (level !== undefined) levels[id] = level;
      }
      return { ...assignment, levels, plant: from.plant };
    }),
    factors: factors.map((factor) => {
      if (factor.unit !== 'pot' || !factor.where.some((place) => other.has(place.unitId))) {
        return factor;
      }
      const where = factor.where.map((place) => ({
        ...place,
        unitId: other.get(place.unitId) ?? place.unitId,
      }));
      return { ...factor, where };
    }),
  };
}

export function placedIn(plan: Plan): Placed {
  return {
    assignments: plan.layout?.assignments ?? [],
    factors: plan.trial?.factors ?? [],
  };
}
