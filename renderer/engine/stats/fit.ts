import type { DataTable, FitRequest, FitResult } from '../../../shared-types/fit';
import { compareMeans, plannedContrast } from './comparisons';
import { buildDesign, uncentredWeights } from './design';
import { tQuantileUpper } from './distributions';
import { adjustedMeans, estimableMeans } from './means';
import { analyse } from './fit/analyse';
import type { Analysis } from './fit/analysis';
import { runChecks } from './fit/checks';
import { isConstant } from './fit/constant';
import { informationOf } from './fit/covariance/information';
import { isRandomised, withRandomisation } from './fit/randomised';
import { runRandomisationTest } from './fit/randomisationTest';
import { varianceRows } from './fit/varianceRows';
import { meansWords } from './fit/words';
import type { Allocation } from './randomisation';
import { real } from '../entry';

export { coarseUntreated } from './fit/covariance/coarseCovariance';
export { layoutTests } from './fit/termTests';
export type { UntreatedBy } from './fit/randomised';
export type { LayoutTest } from './fit/termTests';

/**
 * Fits the model of a request to a table: term tests, adjusted means, comparisons, checks and
 * the randomisation test. With an allocation, what was drawn over single rows is judged by layouts
 * drawn anew where place enters by a covariance of its own. Same input, same result. Throws on input that the request's model
 * cannot take, naming the column and row or the part of the request.
 */
export function fit(
  request: FitRequest,
  table: DataTable,
  allocation: Allocation | null = null,
): FitResult {
  const design = buildDesign(request, table);
  const modelled = analyse(request, table, design);
  const analysis =
    allocation && !isConstant(design) && isRandomised(request, design)
      ? withRandomisation(request, table, modelled, allocation)
      : modelled;
  const { model, qr } = analysis;
  const warnings = [...design.warnings, ...analysis.warnings];
  const means = request.means.map((of) => {
    const found = estimableMeans(design, qr, of);
    const adjusted = adjustedMeans(model, found.means, request.confidence, analysis.undo);
    warnings.push(...found.warnings, ...adjusted.warnings);
    return { of: [...of], rows: adjusted.rows };
  });
  const comparisons = request.compare.map((asked) => {
    const compared = compareMeans(model, design, qr, asked, request.confidence);
    warnings.push(...compared.warnings);
    return compared.table;
  });
  const contrasts = request.contrasts.flatMap((asked) => {
    const found = plannedContrast(model, design, qr, asked, request.confidence);
    warnings.push(...found.warnings);
    return found.row ? [found.row] : [];
  });
  const checks = runChecks(request, table, analysis);
  const shuffled = request.redraw
    ? runRandomisationTest(request, request.redraw, table, design)
    : null;
  const method = [
    ...analysis.method,
    ...meansWords(request, design),
    ...checks.method,
    ...(shuffled?.method ?? []),
  ];
  return {
    n: design.y.length,
    dropped: design.dropped,
    method: method.join(' '),
    terms: analysis.terms,
    residual: analysis.residual,
    variance: varianceRows(analysis.variance, request.confidence),
    meanSquares: analysis.meanSquares,
    logLik: analysis.logLik,
    criterion: analysis.criterion,
    aic: analysis.aic,
    coefficients: coefficientRows(analysis, request.confidence),
    means,
    comparisons,
    contrasts,
    information: informationOf(request, table, analysis),
    checks: checks.values,
    redraw: shuffled?.result ?? null,
    spatial: analysis.spatial,
    wald: analysis.wald,
    dispersion: analysis.dispersion,
    rows: Array.from(design.rowIndex, (index, i) => ({
      index,
      fitted: real(analysis.fitted, i),
      residual: real(analysis.residuals, i),
      leverage: analysis.leverage?.[i] ?? null,
    })),
    warnings: [...new Set([...warnings, ...checks.warnings, ...(shuffled?.warnings ?? [])])],
  };
}

/** The coefficients that can be estimated; the aliased ones are named in the warnings. */
function coefficientRows(
  { design, model, qr }: Analysis,
  confidence: number,
): FitResult['coefficients'] {
  return qr.kept.flatMap((j) => {
    const { estimate, se, df } = model.estimate(uncentredWeights(design, j));
    // Without an error for it (a stratum without error df) a coefficient is no estimate.
    if (!Number.isFinite(se)) return [];
    const reach = se * tQuantileUpper((1 - confidence) / 2, df);
    return [
      {
        name: design.columnNames[j] ?? '',
        estimate,
        se,
        df: Number.isFinite(df) ? df : null,
        lower: estimate - reach,
        upper: estimate + reach,
      },
    ];
  });
}
