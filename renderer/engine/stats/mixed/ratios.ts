import { choleskyInPlace, solveLowerRows, solveUpperRows } from './cholesky';
import { criterionAt, criterionBy, factorsAt, type AtRatios } from './criterion';
import { derivativeSums, project, type DerivativeSums } from './projected';
import type { Reduced } from './reduced';
import { Refusal } from '../../../words';
import { num, real } from '../../entry';

/** Starting values, as multiples of what makes a unit's variance equal its pots' mean variance. */
const LEAST_RUNG = 0.1;
const LADDER = [0, LEAST_RUNG, 1, 10, 100];
const MOST_STEPS = 200;
/** A last step so small leaves an error of about its square, which is rounding. */
const SETTLED = 1e-8;
/** Above this ratio the residual variance is zero for all that arithmetic can tell. */
const BOUNDLESS = 1e10;

interface Slope {
  gradient: Float64Array;
  hessian: Float64Array;
  /** Expected curvature: never negative, for where the observed one is. */
  information: Float64Array;
}

function slopeAt(data: Reduced, at: AtRatios, sums: DerivativeSums): Slope {
  const r = data.parts.length;
  const { free } = data;
  const scale = at.remainder / free;
  const gradient = new Float64Array(r);
  const hessian = new Float64Array(r * r);
  const information = new Float64Array(r * r);
  for (let k = 0; k < r; k++) {
    const squareK = real(sums.squares, k);
    const traceK = real(sums.traces, k);
    gradient[k] = traceK - squareK / scale;
    for (let l = 0; l < r; l++) {
      const product = real(sums.products, k * r + l);
      const cross = real(sums.crossed, k * r + l);
      const squareL = real(sums.squares, l);
      hessian[k * r + l] =
        (2 * cross) / scale - (squareK * squareL) / (scale * scale * free) - product;
      information[k * r + l] = product - (traceK * real(sums.traces, l)) / free;
    }
  }
  return { gradient, hessian, information };
}

/** Newton step −H⁻¹g over the `open` components; null where H is not positive definite there. */
function newtonStep(
  hessian: Float64Array,
  gradient: Float64Array,
  open: readonly number[],
  ridge: number,
): Float64Array | null {
  const r = gradient.length;
  const f = open.length;
  const factor = new Float64Array(f * f);
  const step = new Float64Array(f);
  open.forEach((k, i) => {
    open.forEach((l, j) => {
      factor[i * f + j] = real(hessian, k * r + l) * (k === l ? 1 + ridge : 1);
    });
    step[i] = -real(gradient, k);
  });
  if (!choleskyInPlace(factor, f)) return null;
  solveLowerRows(factor, f, step, 1);
  solveUpperRows(factor, f, step, 1);
  const full = new Float64Array(r);
  open.forEach((k, i) => {
    full[k] = real(step, i);
  });
  return full;
}

interface Refined {
  at: AtRatios;
  settled: boolean;
}

/** Newton with step halving on γ ≥ 0 from one start; a component leaves zero when that pays. */
function refine(data: Reduced, start: AtRatios): Refined {
  const r = data.parts.length;
  let at = start;
  let polished = 0;
  for (let count = 0; count < MOST_STEPS; count++) {
    const slope = slopeAt(data, at, derivativeSums(data, project(data, at)));
    const open: number[] = [];
    for (let k = 0; k < r; k++) {
      if (real(at.ratios, k) > 0 || real(slope.gradient, k) < 0) {
        open.push(k);
      }
    }
    if (open.length === 0) return { at, settled: true };
    const step =
      newtonStep(slope.hessian, slope.gradient, open, 0) ??
      newtonStep(slope.information, slope.gradient, open, 1e-8);
    if (step === null) return { at, settled: false };
    let decrement = 0;
    let relative = 0;
    for (const k of open) {
      decrement -= real(step, k) * real(slope.gradient, k);
      const ratio = real(at.ratios, k);
      relative = Math.max(relative, ratio > 0 ? Math.abs(real(step, k)) / ratio : 1);
    }
    const nearly = decrement < 1e-9;
    let next = at;
    for (let share = 1; share > 1e-12; share /= 2) {
      const trial = new Float64Array(r);
      let expected = 0;
      for (let k = 0; k < r; k++) {
        const ratio = real(at.ratios, k);
        const moved = Math.max(0, ratio + share * real(step, k));
        // An early step may not run away; from zero there is no scale to judge it by.
        trial[k] = ratio > 0 ? Math.min(moved, 20 * ratio) : moved;
        expected += (real(trial, k) - ratio) * real(slope.gradient, k);
      }
      const tried = criterionAt(data, trial);
      // Next to the optimum the criterion is rounding only, and the full step is the better one.
      if (tried.value <= at.value + (nearly ? 1e-9 : 1e-4 * Math.min(0, expected))) {
        next = tried;
        break;
      }
    }
    if (next === at) return { at, settled: decrement < 1e-6 };
    at = next;
    // Where rounding keeps the steps from dying out, a few of them are as good as it gets.
    if (nearly) polished++;
    if (relative < SETTLED || polished > 8) return { at, settled: true };
    for (const ratio of at.ratios) {
      if (ratio > BOUNDLESS) {
        throw new Refusal(
          'mixed model: the residual variance is zero, the units alone fit every row; expected ' +
            'rows that differ within their units',
        );
      }
    }
  }
  return { at, settled: false };
}

/**
 * Coarse search: equal multiples for all components, then one component after another from the best of
 * them; and beside a start with zeros one without, for the criterion may have a least point of its own
 * there.
 */
function starts(data: Reduced): AtRatios[] {
  const scale = data.parts.map((part) => {
    let trace = 0;
    for (let i = part.start; i < part.start + part.count; i++) {
      trace += real(data.left, i);
    }
    return trace > 0 ? part.count / trace : 0;
  });
  let best: AtRatios | null = null;
  const look = (ratios: Float64Array): void => {
    const tried = ladderAt(data, ratios);
    if (tried.value < (best?.value ?? Infinity)) best = tried;
  };
  for (const multiple of LADDER) look(Float64Array.from(scale, (s) => multiple * s));
  scale.forEach((s, k) => {
    const from = best?.ratios ?? new Float64Array(scale.length);
    for (const multiple of LADDER) {
      const value = multiple * s;
      if (value !== from[k]) look(from.with(k, value));
    }
  });
  if (best === null) {
    throw new Refusal(
      'mixed model: the criterion is nowhere finite; expected a response that varies beyond the ' +
        'fixed effects',
    );
  }
  const first: AtRatios = best;
  const inside = first.ratios.map((ratio, k) => (ratio > 0 ? ratio : LEAST_RUNG * num(scale, k)));
  if (inside.every((ratio, k) => ratio === first.ratios[k])) return [first];
  const other = ladderAt(data, inside);
  return other.value < Infinity ? [first, other] : [first];
}

/** The criterion at a rung of the ladder, whose factors serve all responses to the layout. */
function ladderAt(data: Reduced, ratios: Float64Array): AtRatios {
  const key = ratios.join(' ');
  const factors = data.known.get(key) ?? factorsAt(data, ratios);
  data.known.set(key, factors);
  return criterionBy(data, factors);
}

/**
 * Ratios γ ≥ 0 at which the REML criterion is least, polished to rounding; a component whose
 * optimum lies at the edge is exactly 0.
 */
export function bestRatios(data: Reduced): Refined {
  if (data.parts.length === 0) {
    return { at: criterionAt(data, new Float64Array(0)), settled: true };
  }
  let best: Refined | null = null;
  for (const start of starts(data)) {
    const refined = refine(data, start);
    if (best === null || refined.at.value < best.at.value - 1e-9) best = refined;
  }
  if (best === null) throw new Refusal('mixed model: no start for the search of the variances');
  for (let k = 0; k < data.parts.length; k++) {
    if (!(real(best.at.ratios, k) > 0)) continue;
    const trial = best.at.ratios.slice();
    trial[k] = 0;
    const without = criterionAt(data, trial);
    // A speck that makes no difference is zero.
    if (without.value <= best.at.value + 1e-11) best = { ...best, at: without };
  }
  return best;
}
