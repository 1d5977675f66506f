import { dotRange } from '../linalg';
import { real } from '../../../entry';

/** What estimates and tests of a set of coefficients are referred to. */
export type DfMethod =
  | { kind: 'asymptotic' }
  | {
      kind: 'containment';
      /** Name of the unit in which each kept coefficient varies, and its df (may be 0). */
      strata: readonly { unit: string; df: number }[];
    }
  | {
      kind: 'satterthwaite' | 'kenward-roger';
      /** ∂Φ/∂θ_i, each rank × rank, for the variance parameters θ. */
      derivatives: readonly Float64Array[];
      /** Covariance of the estimated θ. */
      uncertainty: Float64Array;
    };

/** leftᵀ · uncertainty · right: the covariance of two figures with these slopes in θ. */
export function jointSpread(
  uncertainty: Float64Array,
  left: Float64Array,
  right: Float64Array,
): number {
  const m = left.length;
  let sum = 0;
  for (let i = 0; i < m; i++) sum += real(left, i) * dotRange(uncertainty, i * m, right, 0, m);
  return sum;
}

/** Df of the smallest stratum among the coefficients that a contrast touches; may be 0. */
export function containmentDf(
  strata: readonly { unit: string; df: number }[],
  contrasts: readonly Float64Array[],
): number {
  let least = Infinity;
  for (const contrast of contrasts) {
    const largest = contrast.reduce((most, w) => Math.max(most, Math.abs(w)), 0);
    contrast.forEach((weight, j) => {
      const stratum = strata[j];
      if (stratum && Math.abs(weight) > 1e-9 * largest) least = Math.min(least, stratum.df);
    });
  }
  return least;
}

/** Df of an F made of independent squared t's with these df (Fai & Cornelius 1996). */
function poolDf(each: readonly number[]): number {
  const q = each.length;
  const first = each[0] ?? Infinity;
  if (each.every((df) => Math.abs(df - first) < 1e-8 || df === first)) return first;
  if (each.some((df) => df <= 2)) return 2;
  const total = each.reduce((sum, df) => sum + (df === Infinity ? 1 : df / (df - 2)), 0);
  return total > q ? (2 * total) / (total - q) : Infinity;
}

/** Satterthwaite's df of `q` independent contrasts whose covariance has the slopes `inner` in θ. */
export function satterthwaiteDf(
  q: number,
  inner: readonly Float64Array[],
  uncertainty: Float64Array,
): number {
  const each = Array.from({ length: q }, (_, i) => {
    const slopes = Float64Array.from(inner, (g) => real(g, i * q + i));
    const spread = jointSpread(uncertainty, slopes, slopes);
    return spread > 0 ? 2 / spread : Infinity;
  });
  return poolDf(each);
}
