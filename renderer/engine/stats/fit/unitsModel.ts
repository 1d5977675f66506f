import type { DataTable, FitRequest, TermRow } from '../../../../shared-types/fit';
import { randomUnits } from '../design';
import type { Design, UnitCodes } from '../design';
import { spaceOf } from '../linear';
import type { FittedModel } from '../model';
import { scaleRules } from '../table';
import { distinctUnits, fitUnits } from '../units';
import type { UnitsFit } from '../units';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { analyseMixed } from './mixedModel';
import { lostDfWarning, requireResidual } from './linearModel';
import { unrepeatedWarning } from './unrepeated';
import { aliasWarnings, modelWords, testWords } from './words';
import { figures, list } from '../../../words';
import { num, real } from '../../entry';

/** Every term against the variation of the units it falls on; nothing is estimated by likelihood. */
export function analyseUnits(
  request: FitRequest,
  table: DataTable,
  design: Design,
): Analysis & { readonly model: UnitsFit } {
  const qr = spaceOf(design.x);
  requireResidual(design, design.x.rows - qr.rank);
  const { kept, warnings } = distinctUnits(
    // Rows and columns of a position model say nothing about what falls on whole units.
    randomUnits({ ...request, position: null }, table, design.rowIndex),
  );
  const fit = fitUnits(design, kept, request.tests);
  warnings.unshift(...aliasWarnings(design, qr));
  const terms = fit.terms.map((row, i): TermRow => {
    const lost = lostDfWarning(row.term, row.df, design.terms[i]?.columns.length ?? 0);
    if (lost) warnings.push(lost);
    else if (row.error.df === 0) warnings.push(unrepeatedWarning(row.term, row.error.unit));
    return {
      term: row.term,
      df: row.df,
      ss: row.ss,
      ms: row.df > 0 ? row.ss / row.df : null,
      dfError: row.error.df,
      statistic: row.statistic,
      kind: 'F',
      p: row.p,
      stratum: row.error.unit,
    };
  });
  for (const { unit, variance } of fit.variance) {
    if (variance < 0) warnings.push(belowZeroWarning(unit, variance));
  }
  warnings.push(...unevenWarnings(fit, kept));
  const residual = fit.meanSquares.at(-1);
  return {
    ...noExtras,
    model: fit,
    design,
    qr,
    terms,
    residual:
      residual && residual.df > 0 ? { df: residual.df, ss: residual.ss, ms: residual.ms } : null,
    variance: fit.variance.filter(({ variance }) => Number.isFinite(variance)),
    meanSquares: fit.meanSquares.map((row) => ({ ...row, ms: row.df > 0 ? row.ms : null })),
    fitted: design.y.map((value, i) => value - real(fit.residuals, i)),
    residuals: fit.residuals,
    undo: request.scale === 'identity' ? null : scaleRules[request.scale].undo,
    method: [
      `Linear model of ${modelWords(request, design)}, by least squares; each term is judged by ` +
        `the mean square between the units it falls on (${list(
          kept.map(({ unit }) => unit),
        )}, single rows), on their own degrees of freedom.`,
      ...testWords(request, design),
      'Differences and means have the variance that these mean squares give; where several have ' +
        'part in one, degrees of freedom are after Satterthwaite.',
    ],
    warnings,
  };
}

/** Rows of the largest unit over those of the smallest from which on the test errs by percents. */
const UNEVEN = 3;

/**
 * Units of very different size, where their own variance is above zero: least squares weighs them by
 * their rows, more than such units tell. tests/bench/design-rates.json has the rates.
 */
function unevenWarnings({ terms, variance }: UnitsFit, units: readonly UnitCodes[]): string[] {
  return units.flatMap(({ unit, codes, levels }) => {
    const judged = terms.filter(({ error, df }) => error.unit === unit && df > 0);
    const own = variance.find((row) => row.unit === unit)?.variance ?? 0;
    const sizes = new Array<number>(levels).fill(0);
    for (const code of codes) sizes[code] = num(sizes, code) + 1;
    const [least, most] = [Math.min(...sizes.filter((size) => size > 0)), Math.max(...sizes)];
    if (judged.length === 0 || !(own > 0) || most < UNEVEN * least) return [];
    return [
      `${unit}: its units hold from ${least} to ${most} rows, and count by their rows in the test of ` +
        `${list(judged.map(({ term }) => term))}. Where units differ much by themselves, that calls ` +
        'somewhat more differences than it should.',
    ];
  });
}

/** How the warning of such a unit begins. */
export function belowZeroWords(unit: string): string {
  return `The variance of ${unit} is estimated below zero`;
}

function belowZeroWarning(unit: string, variance: number): string {
  return (
    `${belowZeroWords(unit)} (${figures(variance, 3)}): its units differ ` +
    'less than their pots alone would make them. Nothing is changed by it; what falls on them is ' +
    'still judged by the mean square between them.'
  );
}

/**
 * Position within units says nothing about what falls on whole units: those terms keep the unit
 * rule, and the terms of single rows are judged by the position model, after Kenward and Roger.
 */
export function withPosition(
  request: FitRequest,
  table: DataTable,
  byUnits: Analysis & { readonly model: UnitsFit },
): Analysis {
  const placed = analyseMixed({ ...request, denominator: 'kenward-roger' }, table, byUnits.design);
  const { model } = byUnits;
  const chosen = (weights: Float64Array): FittedModel =>
    model.fallsOnRows(weights) ? placed.model : model;
  return {
    ...placed,
    model: {
      coefficients: placed.model.coefficients,
      covariance: placed.model.covariance,
      covarianceFor: (weights) =>
        model.fallsOnRows(weights) ? placed.model.covariance : model.covarianceFor(weights),
      ...(model.whyNoError === undefined ? {} : { whyNoError: model.whyNoError }),
      estimate: (weights) => chosen(weights).estimate(weights),
      test: (contrasts) => chosen(contrasts.data.subarray(0, contrasts.columns)).test(contrasts),
    },
    terms: byUnits.terms.map((row, i) =>
      row.stratum === 'residual' ? (placed.terms[i] ?? row) : row,
    ),
    meanSquares: byUnits.meanSquares,
    method: [
      ...placed.method,
      'What falls on whole units is judged by the mean square between them, without regard to ' +
        'position, on its own degrees of freedom.',
    ],
    warnings: [...new Set([...byUnits.warnings, ...placed.warnings])],
  };
}
