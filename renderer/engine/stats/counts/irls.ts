import { factorise, selectColumns } from '../linear';
import type { Qr } from '../linear';
import type { Matrix } from '../model';
import type { CountFamily } from './families';
import { real } from '../../entry';

export interface CountsInput {
  /** n × p, first column the intercept. */
  readonly x: Matrix;
  /** Whole numbers, not below 0. */
  readonly y: Float64Array;
  /** Known part of the log mean (log of the exposure), one a row. */
  readonly offset?: Float64Array;
}

export interface CountsCore {
  /** Of the design matrix without weights: rank, kept and aliased columns. */
  readonly space: Qr;
  /** Of the kept columns times the square root of the final weights. */
  readonly weighted: Qr;
  /** Of the last step, one a row. */
  readonly weights: Float64Array;
  /** NaN for aliased columns. */
  readonly coefficients: Float64Array;
  readonly mu: Float64Array;
  readonly deviance: number;
  readonly logLik: number;
  readonly converged: boolean;
}

const MOST_STEPS = 200;

/** The deviance counts as settled when a step changes less than this share of it. */
const SETTLED = 1e-8;

/**
 * Maximum likelihood for counts with a log link by iteratively reweighted least squares
 * (McCullagh & Nelder 1989, Generalized Linear Models, 2.5), each step by QR. `polish`: steps to go
 * on after the deviance has settled. Steps double the digits where the log link is canonical, so
 * that one leaves rounding alone, in the weights and standard errors too.
 */
export function fitIrls(input: CountsInput, family: CountFamily, polish = 1): CountsCore {
  const { x, y } = input;
  const space = factorise(x);
  const columns = selectColumns(x, space.kept);
  const n = x.rows;
  const p = columns.columns;
  const offset = input.offset ?? new Float64Array(n);
  let mu: Float64Array = y.map((value) => value + 0.1);
  let deviance = totalDeviance(family, y, mu);
  let beta: Float64Array = new Float64Array(p);
  let weighted = space;
  const weights = new Float64Array(n);
  let converged = false;
  let settled = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const data = new Float64Array(n * p);
    const z = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const m = mu[i] ?? 1;
      const root = m / Math.sqrt(family.variance(m));
      weights[i] = root * root;
      z[i] = root * (Math.log(m) - real(offset, i) + (real(y, i) - m) / m);
      for (let j = 0; j < p; j++) data[i * p + j] = root * real(columns.data, i * p + j);
    }
    weighted = factorise({ rows: n, columns: p, data }, 0);
    weighted.applyQt(z);
    let next = weighted.solveUpper(z);
    let trial = meansAt(columns, next, offset);
    let reached = totalDeviance(family, y, trial);
    // Halve a step that overshoots.
    for (let k = 0; k < 30 && !(reached <= deviance * (1 + 1e-9) + 1e-9) && step > 0; k++) {
      const from = beta;
      next = next.map((value, j) => (value + real(from, j)) / 2);
      trial = meansAt(columns, next, offset);
      reached = totalDeviance(family, y, trial);
    }
    const change = Math.abs(reached - deviance);
    [beta, mu, deviance] = [next, trial, reached];
    if (change < SETTLED * (Math.abs(deviance) + 0.1)) settled++;
    if (settled > polish) {
      converged = true;
      break;
    }
  }
  const coefficients = new Float64Array(x.columns).fill(NaN);
  space.kept.forEach((j, k) => {
    coefficients[j] = beta[k] ?? NaN;
  });
  let logLik = 0;
  y.forEach((value, i) => {
    logLik += family.logLik(value, mu[i] ?? 1);
  });
  return { space, weighted, weights, coefficients, mu, deviance, logLik, converged };
}

/** Means at some coefficients, kept away from 0 and Infinity so that a fit can go on. */
function meansAt(columns: Matrix, beta: Float64Array, offset: Float64Array): Float64Array {
  return Float64Array.from(offset, (known, i) => {
    let eta = known;
    for (let j = 0; j < beta.length; j++) {
      eta += real(columns.data, i * columns.columns + j) * real(beta, j);
    }
    return Math.exp(Math.max(-36, Math.min(300, eta)));
  });
}

function totalDeviance(family: CountFamily, y: Float64Array, mu: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < y.length; i++) sum += family.unitDeviance(real(y, i), mu[i] ?? 1);
  return sum;
}
