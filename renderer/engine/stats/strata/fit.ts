import type { Design } from '../design';
import { fUpper } from '../distributions';
import { termDirections } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import { dot, factorise, fromRows, mean, predict, quadraticForm } from '../linear';
import type { Qr } from '../linear';
import type { FittedModel, TermTest } from '../model';
import { stratumModel } from './model';
import { split, type ErrorStratum } from './structure';
import { fixed, Refusal } from '../../../words';
import { real } from '../../entry';

/** A term, or the part of it that falls into one stratum. */
export interface StratumTerm {
  readonly term: string;
  readonly stratum: string;
  readonly df: number;
  readonly ss: number;
  readonly dfError: number;
  /** null where the stratum has no error df, or no error at all. */
  readonly statistic: number | null;
  readonly p: number | null;
}

export interface StratumError {
  readonly unit: string;
  readonly df: number;
  readonly ss: number;
}

export interface StrataFit extends FittedModel {
  readonly qr: Qr;
  readonly terms: readonly StratumTerm[];
  /** What is left in each stratum when the terms are taken out, coarsest first. */
  readonly errors: readonly StratumError[];
  /** Moment estimates, in the order of the strata; may be negative. */
  readonly variance: readonly { unit: string; variance: number }[];
  /** Fixed part plus unit effects; residuals are those of single rows. */
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
}

/** A direction lies in a stratum, or in none of it, up to this share of its length. */
const SHARE = 1e-7;

/**
 * Classical analysis of variance by error strata. Each term is tested in the stratum it falls
 * into; one that falls into several whole parts gets a row for each. Refused, with the shares,
 * where a term is split between strata in any other way.
 */
export function fitStrata(
  design: Design,
  strata: readonly ErrorStratum[],
  order: TestOrder,
): StrataFit {
  const { x, y } = design;
  const centre = mean(y);
  const deviations = y.map((value) => value - centre);
  const parts = split(strata, deviations);
  const errors = strata.map((stratum, s) => ({
    unit: stratum.unit,
    df: stratum.df,
    ss: sumOfSquares(parts[s]),
  }));
  const found: { term: string; stratum: number; df: number; ss: number }[] = [];
  termDirections(design, order).forEach((directions, t) => {
    const term = design.terms[t]?.name ?? '';
    for (const part of splitTerm(term, directions, strata, deviations)) {
      const error = errors[part.stratum];
      if (!error) continue;
      error.df -= part.df;
      error.ss -= part.ss;
      found.push({ term, ...part });
    }
  });
  const qr = factorise(x);
  for (const [s, error] of errors.entries()) {
    // What the subtraction leaves of a stratum that its terms use up is rounding.
    if (error.df === 0 || error.ss < 1e-13 * sumOfSquares(parts[s])) error.ss = 0;
  }
  const terms = found.map(({ term, stratum, df, ss }): StratumTerm => {
    const error = errors[stratum];
    const dfError = error?.df ?? 0;
    const ms = error && dfError > 0 ? error.ss / dfError : 0;
    const statistic = ms > 0 ? ss / df / ms : null;
    return {
      term,
      stratum: error?.unit ?? '',
      df,
      ss,
      dfError,
      statistic,
      p: statistic === null ? null : fUpper(statistic, df, dfError),
    };
  });
  const model = stratumModel(design, qr, strata, errors);
  const fixed = predict(x, model.coefficients);
  const left = y.map((value, i) => value - real(fixed, i));
  const residuals = split(strata, left).at(-1) ?? left;
  return {
    ...model,
    qr,
    terms,
    errors,
    residuals,
    fitted: y.map((value, i) => value - real(residuals, i)),
    test(contrasts): TermTest {
      const { value, rank } = quadraticForm(contrasts, model.coefficients, model.covariance);
      const rows = Array.from({ length: contrasts.rows }, (_, i) =>
        contrasts.data.subarray(i * contrasts.columns, (i + 1) * contrasts.columns),
      );
      // The contrasts of one stratum share its df; across strata the smallest is on the safe side.
      const dfError = Math.min(...rows.map((row) => model.estimate(row).df));
      const statistic = value / rank;
      return { df: rank, dfError, statistic, kind: 'F', p: fUpper(statistic, rank, dfError) };
    },
  };
}

/**
 * The whole parts in which the directions of a term fall into the strata: in each stratum the
 * projection, seen within the term, must be a projection again.
 */
function splitTerm(
  term: string,
  directions: readonly Float64Array[],
  strata: readonly ErrorStratum[],
  deviations: Float64Array,
): { stratum: number; df: number; ss: number }[] {
  const effect = Float64Array.from(directions, (z) => dot(z, deviations));
  const shares: { unit: string; share: number }[] = [];
  const projected = directions.map((z) => split(strata, z));
  let whole = true;
  const parts = strata.flatMap((stratum, s) => {
    const inside = projected.map((ofStrata) => ofStrata[s] ?? new Float64Array());
    const k = directions.length;
    const gram = fromRows(
      inside.map((part) => Float64Array.from(directions, (z) => dot(part, z))),
      k,
    );
    let trace = 0;
    for (let i = 0; i < k; i++) {
      trace += real(gram.data, i * k + i);
      for (let j = 0; j < k; j++) {
        let squared = 0;
        for (let l = 0; l < k; l++) {
          squared += real(gram.data, i * k + l) * real(gram.data, l * k + j);
        }
        if (Math.abs(squared - real(gram.data, i * k + j)) > SHARE) whole = false;
      }
    }
    if (trace > SHARE) shares.push({ unit: stratum.unit, share: trace / k });
    const df = Math.round(trace);
    if (df === 0) return [];
    const along = new Float64Array(deviations.length);
    inside.forEach((part, j) => {
      for (let i = 0; i < along.length; i++) {
        along[i] = real(along, i) + real(effect, j) * real(part, i);
      }
    });
    return [{ stratum: s, df, ss: sumOfSquares(along) }];
  });
  if (whole) return parts;
  const words = shares.map(({ unit, share }) => `${fixed(100 * share, 0)} % in ${unit}`);
  throw new Refusal(
    `exactStrata: ${term} falls partly into several strata (${words.join(', ')}); exact error ` +
      'strata need each term whole in one (a mixed model does not)',
  );
}

function sumOfSquares(v: Float64Array | undefined): number {
  return v ? dot(v, v) : 0;
}
