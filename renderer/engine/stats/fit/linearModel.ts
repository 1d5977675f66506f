import type { FitRequest, TermRow } from '../../../../shared-types/fit';
import type { Design } from '../design';
import { fUpper } from '../distributions';
import { alongTerms } from '../hypotheses';
import { fitLinear, mean } from '../linear';
import type { FittedModel } from '../model';
import { scaleRules } from '../table';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { aliasWarnings, modelWords, testWords } from './words';
import { Refusal } from '../../../words';

/** One error: pots are the units of every term. */
export function analyseLinear(request: FitRequest, design: Design): Analysis {
  const fit = fitLinear(design.x, design.y);
  requireResidual(design, fit.residual.df);
  const exact = fitsExactly(design.y, fit.residual.ss);
  const warnings = aliasWarnings(design, fit.qr);
  if (exact) {
    warnings.push(
      'The model fits every row exactly, so there is no error to test against: are the responses ' +
        'measured, or computed?',
    );
  }
  const { terms, warnings: lost } = termRows(request, design, exact ? null : fit.residual);
  return {
    ...noExtras,
    model: exact ? withoutError(fit) : fit,
    design,
    qr: fit.qr,
    terms,
    residual: fit.residual,
    logLik: exact ? null : fit.logLik,
    criterion: exact ? null : 'ML',
    aic: exact ? null : fit.aic,
    variance: [{ unit: 'residual', variance: fit.residual.ms, df: fit.residual.df }],
    fitted: fit.fitted,
    residuals: fit.residuals,
    leverage: fit.leverage,
    undo: request.scale === 'identity' ? null : scaleRules[request.scale].undo,
    method: [
      `Linear model of ${modelWords(request, design)}, by least squares.`,
      ...testWords(request, design),
    ],
    warnings: [...warnings, ...lost],
  };
}

export function requireResidual(design: Design, df: number): void {
  if (df > 0) return;
  throw new Refusal(
    `model: its ${design.x.columns} coefficients take up all ${design.x.rows} rows with a ` +
      'response; at least one row more is expected, to measure the error',
  );
}

/** An exact fit has rounding for an error, which is no error at all. */
function withoutError(fit: FittedModel): FittedModel {
  return {
    ...fit,
    whyNoError: 'the model fits every row exactly.',
    estimate: (weights) => ({ ...fit.estimate(weights), se: NaN }),
  };
}

/** Residuals that are rounding noise beside the response itself. */
function fitsExactly(y: Float64Array, residualSs: number): boolean {
  let total = 0;
  for (const value of y) total += value * value;
  return residualSs <= 1e-26 * total;
}

function termRows(
  request: FitRequest,
  design: Design,
  residual: { df: number; ms: number } | null,
): { terms: TermRow[]; warnings: string[] } {
  const centre = mean(design.y);
  const deviations = design.y.map((value) => value - centre);
  const warnings: string[] = [];
  const along = alongTerms(design, request.tests, deviations);
  const terms = design.terms.map((term, i): TermRow => {
    const own = along[i] ?? [];
    const df = own.length;
    const lost = lostDfWarning(term.name, df, term.columns.length);
    if (lost) warnings.push(lost);
    const ss = own.reduce((sum, length) => sum + length ** 2, 0);
    const tested = residual !== null && df > 0;
    const statistic = tested ? ss / df / residual.ms : null;
    return {
      term: term.name,
      df,
      ss,
      ms: df > 0 ? ss / df : null,
      dfError: residual?.df ?? null,
      statistic,
      kind: 'F',
      p: tested && statistic !== null ? fUpper(statistic, df, residual.df) : null,
      stratum: 'residual',
    };
  });
  return { terms, warnings };
}

/** Where empty combinations or aliasing leave a term with fewer df than it has columns. */
export function lostDfWarning(term: string, df: number, columns: number): string | null {
  if (df === columns) return null;
  if (df === 0) return `${term} cannot be tested: the other terms say all that it says.`;
  return `${term} is tested on ${df} of its ${columns} df: not all its combinations have rows.`;
}
