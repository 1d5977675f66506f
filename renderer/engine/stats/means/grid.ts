import type { Design } from '../design';
import { Refusal } from '../../../words';
import { num } from '../../entry';

/** A mean over a balanced grid, as weights of the design's coefficients. */
export interface GridMean {
  /** Level by factor name, in the order asked for. */
  readonly levels: ReadonlyMap<string, string>;
  /** Level names joined with ` · `. */
  readonly label: string;
  readonly weights: Float64Array;
}

/**
 * The adjusted means of the combinations of some factors: every other factor averaged over its
 * levels with equal weight (fixed blocks too), every covariate at its mean over the rows of the
 * fit. The first factor varies slowest. Throws on a name that is no factor of the model.
 */
export function gridMeans(design: Design, of: readonly string[]): GridMean[] {
  if (new Set(of).size !== of.length) {
    throw new Refusal(`means: ${of.join(' × ')} names a factor twice; expected it once`);
  }
  let combinations: number[][] = [[]];
  for (const name of of) {
    const factor = design.factors.get(name);
    const inModel = design.terms.some((term) => term.factors.includes(name));
    if (!factor || !inModel) {
      const known = [...design.factors.keys()].join(', ') || 'none is in the model';
      throw new Refusal(`means: found "${name}"; expected a factor of the model (${known})`);
    }
    combinations = combinations.flatMap((codes) => factor.levels.map((_, l) => [...codes, l]));
  }
  return combinations.map((codes) => {
    const chosen = new Map(of.map((name, i) => [name, num(codes, i)]));
    const levels = new Map(
      of.map((name, i) => [name, design.factors.get(name)?.levels[num(codes, i)] ?? ''] as const),
    );
    const weights = Float64Array.from(design.columns, (column) => {
      // Covariates are centred: at their mean they add nothing.
      if (column.covariates.length > 0) return 0;
      let weight = 1;
      for (const [name, level] of column.levels) {
        const at = chosen.get(name);
        const count = design.factors.get(name)?.levels.length ?? 1;
        weight *= at === undefined ? 1 / count : Number(at === level);
      }
      return weight;
    });
    return { levels, label: [...levels.values()].join(' · '), weights };
  });
}
