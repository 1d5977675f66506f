import type { FitRequest } from '../../../../shared-types/fit';
import type { Contrast, Factor } from '../../../../shared-types/trial/trial';
import { orthogonalPolynomials } from '../../stats/comparisons';
import type { FactorRole } from '../model/roles';

/** Name of the level that the others are compared with; null where none was chosen. */
export function controlOf(role: Pick<FactorRole, 'factor'>): string | null {
  const { control, levels } = role.factor;
  return levels.find((level) => level.id === control)?.name ?? null;
}

/** The comparisons planned for a factor whose levels all have pots, as a fit takes them. */
export function plannedFor(
  role: Pick<FactorRole, 'factor' | 'column'>,
  seen: ReadonlySet<string>,
): FitRequest['contrasts'] {
  return (role.factor.contrasts ?? []).flatMap(({ name, weights }) => {
    const byName = weights.flatMap(({ levelId, weight }): [string, number][] => {
      const level = role.factor.levels.find((l) => l.id === levelId);
      return level && weight !== 0 ? [[level.name, weight]] : [];
    });
    const usable = byName.length > 1 && byName.every(([level]) => seen.has(level));
    return usable ? [{ name, of: role.column, weights: Object.fromEntries(byName) }] : [];
  });
}

/**
 * The amount that a level's name states: its one number, as in `strong (2.2 mS/cm)`. null where it
 * holds none or several.
 */
export function amountIn(levelName: string): number | null {
  const found = levelName.replace(/,(?=[0-9])/g, '.').match(/[-−]?[0-9]+(\.[0-9]+)?/g) ?? [];
  const [only] = found;
  return found.length === 1 && only !== undefined ? Number(only.replace('−', '-')) : null;
}

const DEGREES = ['slope', 'curvature', 'third degree'] as const;

/**
 * Trend contrasts over levels whose names state amounts: the slope per unit of the amount, then the
 * coefficient of its square (and cube), each free of the ones before it (orthogonal polynomials at
 * the true spacing). Empty where the levels state no different amounts.
 */
export function trendContrasts(factor: Pick<Factor, 'levels'>, degrees = 2): Contrast[] {
  const amounts = factor.levels.map((level) => amountIn(level.name));
  const known = amounts.filter((amount) => amount !== null);
  if (known.length < factor.levels.length || new Set(known).size < known.length) return [];
  if (known.length < 2) return [];
  const sets = orthogonalPolynomials(known, Math.min(degrees, known.length - 1));
  return sets.map((weights, d) => ({
    name: DEGREES[d] ?? `degree ${d + 1}`,
    weights: factor.levels.map((level, i) => ({ levelId: level.id, weight: weights[i] ?? 0 })),
  }));
}
