import type { Ar1Limits } from './logistic';
import type { Ar1Optimum } from './search';
import { freeInverse, type Ar1Curvature } from './curvature';
import { SPATIAL_PARAMETERS } from './slopes';
import { addScaled, timesTransposed } from '../linalg';
import { sandwich, type OrthogonalDesign } from '../orthogonal';
import type { DfMethod } from '../wald/df';
import { real } from '../../../entry';

/** Covariance of the coefficients corrected for small samples (Kenward & Roger 1997). */
function corrected(
  curvature: Ar1Curvature,
  used: readonly number[],
  w: Float64Array,
): Float64Array {
  const { phi, first, second, bend } = curvature;
  const rank = Math.round(Math.sqrt(phi.length));
  const inner = new Float64Array(rank * rank);
  used.forEach((i, a) => {
    const left = timesTransposed(first[i] ?? phi, rank, phi, rank, rank);
    used.forEach((j, b) => {
      const weight = real(w, a * used.length + b);
      const at = i * first.length + j;
      const product = timesTransposed(left, rank, first[j] ?? phi, rank, rank);
      addScaled(inner, 0, weight, second[at] ?? phi, 0, inner.length);
      addScaled(inner, 0, -weight, product, 0, inner.length);
      addScaled(inner, 0, -weight / 4, bend[at] ?? phi, 0, inner.length);
    });
  });
  const half = timesTransposed(phi, rank, inner, rank, rank);
  const full = timesTransposed(half, rank, phi, rank, rank);
  const out = phi.slice();
  addScaled(out, 0, 2, full, 0, out.length);
  return out;
}

/**
 * What tests are referred to once the correlations are estimated: by Satterthwaite from the
 * observed information of the parameters away from an edge; by Kenward and Roger from the
 * expected one, in which variances at zero count as estimated. Null where the information is
 * singular.
 */
export function ar1SmallSample(
  kind: 'satterthwaite' | 'kenward-roger',
  curvature: Ar1Curvature,
  optimum: Ar1Optimum,
  design: OrthogonalDesign,
  limits: Ar1Limits,
): { dfMethod: DfMethod; covariance: Float64Array } | null {
  const { rank } = design;
  const { phi, first, observed, expected } = curvature;
  let used = optimum.free;
  if (kind === 'kenward-roger') {
    const estimated = [limits.nugget, ...limits.units].flatMap((free, k) =>
      free ? [SPATIAL_PARAMETERS - 1 + k] : [],
    );
    used = [...used.filter((k) => k < SPATIAL_PARAMETERS - 1), ...estimated];
  }
  const matrix = kind === 'kenward-roger' ? expected : observed;
  const inverse = matrix === null ? null : freeInverse(matrix, used);
  if (inverse === null) return null;
  const uncertainty = inverse.map((value) => 2 * value);
  const derivatives = used.map((i) => {
    const half = timesTransposed(phi, rank, first[i] ?? phi, rank, rank);
    return sandwich(design, timesTransposed(half, rank, phi, rank, rank));
  });
  const covariance = kind === 'kenward-roger' ? corrected(curvature, used, uncertainty) : phi;
  return {
    dfMethod: { kind, derivatives, uncertainty },
    covariance: sandwich(design, covariance),
  };
}
