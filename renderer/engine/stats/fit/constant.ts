import type { FitRequest } from '../../../../shared-types/fit';
import type { Design } from '../design';
import { spaceOf } from '../linear';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { real } from '../../entry';

/** Differences below this share of the values are rounding. */
const ROUNDING = 1e-13;

/** Whether all responses are one and the same number. */
export function isConstant({ y }: Design): boolean {
  const first = real(y, 0);
  return y.every((value) => Math.abs(value - first) <= ROUNDING * Math.abs(first));
}

/** Nothing varies: there is nothing to test and no error to measure a difference by. */
export function analyseConstant(request: FitRequest, design: Design): Analysis {
  const { x, y } = design;
  const p = x.columns;
  const qr = spaceOf(x);
  const coefficients = new Float64Array(p);
  coefficients[0] = real(y, 0);
  const why = 'all responses are equal, so that nothing shows how pots vary.';
  return {
    ...noExtras,
    model: {
      coefficients,
      covariance: { rows: p, columns: p, data: new Float64Array(p * p) },
      whyNoError: why,
      estimate: () => ({ estimate: real(y, 0), se: NaN, df: NaN }),
      test: ({ rows }) => ({ df: rows, dfError: 0, statistic: NaN, kind: 'F', p: NaN }),
    },
    design,
    qr,
    terms: design.terms.map((term) => ({
      term: term.name,
      df: term.columns.filter((j) => qr.kept.includes(j)).length,
      ss: request.counts === null ? 0 : null,
      ms: request.counts === null ? 0 : null,
      dfError: y.length - qr.rank,
      statistic: null,
      kind: 'F',
      p: null,
      stratum: null,
    })),
    residual: { df: y.length - qr.rank, ss: 0, ms: 0 },
    fitted: y.slice(),
    residuals: new Float64Array(y.length),
    undo: null,
    method: ['No model was fitted.'],
    warnings: [
      `All ${y.length} values of ${request.response} are equal. Nothing differs, so nothing can be ` +
        'tested: were they measured, or filled in?',
    ],
  };
}
