import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type TermRow,
} from '../../../../shared-types/fit';
import { randomUnits } from '../design';
import type { Design } from '../design';
import { buildStrata, fitStrata } from '../strata';
import type { StrataFit } from '../strata';
import { scaleRules } from '../table';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { aliasWarnings, modelWords, testWords } from './words';
import { list, Refusal } from '../../../words';

/** Classical error strata: every term against the variation of the units it falls on. */
export function analyseStrata(request: FitRequest, table: DataTable, design: Design): Analysis {
  if (request.position && placeTraits[request.position.model].covarianceOf !== null) {
    throw new Refusal(
      `exactStrata: found the position model ${request.position.model}; expected edge, linear, ` +
        'rows+columns or none',
    );
  }
  const units = randomUnits(request, table, design.rowIndex);
  if (units.length === 0) {
    throw new Refusal('exactStrata: found no randomUnits; expected the units that form the strata');
  }
  const strata = buildStrata(units, design.x.rows);
  const fit = fitStrata(design, strata, request.tests);
  const warnings = [
    ...aliasWarnings(design, fit.qr),
    ...units
      .filter((unit) => unit.levels === design.x.rows)
      .map((unit) => `Each ${unit.unit} holds one row: its stratum is the residual.`),
    ...strataWarnings(design, fit),
  ];
  const residual = fit.errors.at(-1);
  return {
    ...noExtras,
    model: fit,
    design,
    qr: fit.qr,
    terms: fit.terms.map((row): TermRow => ({ ...row, ms: row.ss / row.df, kind: 'F' })),
    residual:
      residual && residual.df > 0
        ? { df: residual.df, ss: residual.ss, ms: residual.ss / residual.df }
        : null,
    variance: fit.variance
      .filter(({ variance }) => Number.isFinite(variance))
      .map(({ unit, variance }) => ({ unit, variance: Math.max(variance, 0) })),
    fitted: fit.fitted,
    residuals: fit.residuals,
    undo: request.scale === 'identity' ? null : scaleRules[request.scale].undo,
    method: [
      `Analysis of variance of ${modelWords(request, design)}, by exact error strata ` +
        `(${list(fit.errors.map((error) => error.unit))}): each term is tested in the ` +
        'stratum it falls into.',
      ...testWords(request, design),
    ],
    warnings,
  };
}

function strataWarnings(design: Design, fit: StrataFit): string[] {
  const warnings: string[] = [];
  for (const { unit, df } of fit.errors) {
    const tested = fit.terms.filter((row) => row.stratum === unit).map((row) => row.term);
    if (df > 0 || tested.length === 0) continue;
    warnings.push(
      `${list(tested)} cannot be tested: the terms take up all df between units of ${unit}, ` +
        'so that nothing shows how these units vary by themselves.',
    );
  }
  for (const { unit, variance } of fit.variance) {
    if (variance >= 0) continue;
    warnings.push(
      `Units of ${unit} differ less than their rows would make them; their variance is given as 0.`,
    );
  }
  for (const term of design.terms) {
    if (fit.terms.some((row) => row.term === term.name)) continue;
    warnings.push(`${term.name} cannot be tested: the other terms say all that it says.`);
  }
  return warnings;
}
