import type { DataTable, FitRequest, FitResult, TermRow } from '../../../../shared-types/fit';
import { combineColumns, crossedName, randomUnits, refuseSharedPlaces } from '../design';
import type { Design, DesignTerm, UnitCodes } from '../design';
import { jointContrasts, termContrasts } from '../hypotheses';
import { fUpper } from '../distributions';
import { fromRows, rowsOf, spaceOf } from '../linear';
import { fitAr1, mixedFits, smoothFits } from '../mixed';
import type { TermTest } from '../model';
import type { Ar1Fit, MixedFit } from '../mixed';
import { readNumbers, scaleRules } from '../table';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { lostDfWarning, requireResidual } from './linearModel';
import { unrepeatedUnits, unrepeatedWarning, withoutUnrepeated } from './unrepeated';
import type { UnrepeatedUnit } from './unrepeated';
import { weightedSequence } from './weightedSequence';
import { errorTermOf } from '../units';
import { aliasWarnings, modelWords, testWords } from './words';
import { list } from '../../../words';
import { real } from '../../entry';

const denominatorWords: Record<FitRequest['denominator'], string> = {
  satterthwaite: 'Degrees of freedom after Satterthwaite.',
  'kenward-roger': 'Covariance and degrees of freedom after Kenward and Roger.',
  // Without units of their own the pots are the units, whose errors the position model relates.
  units: 'Covariance and degrees of freedom after Kenward and Roger.',
  containment: 'Degrees of freedom of the unit that contains each term.',
  asymptotic: 'Tests and intervals take the variances as known.',
};

/** Random units, and position models with a covariance of their own, by REML. */
export function analyseMixed(request: FitRequest, table: DataTable, design: Design): Analysis {
  const qr = spaceOf(design.x);
  requireResidual(design, design.x.rows - qr.rank);
  const { fit, random, spatial, words } = fitCovariance(request, table, design);
  const unrepeated = unrepeatedUnits(design, random);
  const warnings = [...aliasWarnings(design, qr), ...fit.warnings];
  const contained = request.denominator === 'containment';
  const weighted = contained && request.tests === 'sequential';
  const contrasts =
    (weighted ? weightedSequence(design, fit) : null) ?? termContrasts(design, request.tests);
  const terms = design.terms.map((term, i): TermRow => {
    const rows = contrasts[i];
    const lost = lostDfWarning(term.name, rows?.rows ?? 0, term.columns.length);
    if (lost) warnings.push(lost);
    const stratum = spatial ? null : stratumOf(design, term, random);
    const untested = { ...untestedRow(term.name, rows?.rows ?? 0), stratum };
    if (!rows || rows.rows === 0) return untested;
    const without = unrepeated.find(({ touches }) => rowsOf(rows).some(touches));
    if (without) {
      warnings.push(unrepeatedWarning(term.name, without.unit));
      return { ...untested, dfError: 0 };
    }
    const found = fit.test(rows);
    const test = contained ? asContained(found, fit, term) : found;
    if (test.dfError < 1 && contained) {
      warnings.push(unrepeatedWarning(term.name, stratum ?? 'pots'));
      return { ...untested, dfError: 0 };
    }
    return {
      ...untested,
      df: test.df,
      dfError: Number.isFinite(test.dfError) ? test.dfError : null,
      statistic: test.statistic,
      kind: test.kind,
      p: test.p,
    };
  });
  return {
    ...noExtras,
    model: unrepeated.length > 0 ? withoutUnrepeated(fit, unrepeated) : fit,
    design,
    qr,
    terms,
    residual: null,
    variance: fit.variance,
    logLik: fit.logLik,
    criterion: fit.criterion,
    aic: fit.aic,
    spatial,
    logDetPhi: fit.logDetPhi,
    wald: request.denominator === 'asymptotic' ? waldTest(fit, design, unrepeated) : null,
    fitted: fit.fitted,
    residuals: design.y.map((value, i) => value - real(fit.fitted, i)),
    undo: request.scale === 'identity' ? null : scaleRules[request.scale].undo,
    method: [
      `Mixed model of ${modelWords(request, design)}, with ${words}, by REML.`,
      ...testWords(request, design),
      denominatorWords[request.denominator],
    ],
    warnings,
  };
}

/** The variance parameters alone, as `analyseMixed` gives them. */
export function covarianceParameters(
  request: FitRequest,
  table: DataTable,
  design: Design,
): Pick<Analysis, 'variance' | 'spatial'> {
  requireResidual(design, design.x.rows - spaceOf(design.x).rank);
  const { fit, spatial } = fitCovariance(request, table, design);
  return { variance: fit.variance, spatial };
}

/**
 * p of each term as `analyseMixed` gives it, for one response after another to the same layout; null:
 * no test. Not for the denominator containment.
 */
export function mixedTests(
  request: FitRequest,
  table: DataTable,
  design: Design,
): (y: Float64Array) => (term: number) => number | null {
  const { random, fits } = covarianceFits(request, table, design);
  const unrepeated = unrepeatedUnits(design, random);
  const contrasts = termContrasts(design, request.tests);
  return (y) => {
    const fit = fits(y);
    return (term) => {
      const rows = contrasts[term];
      if (!rows || rows.rows === 0) return null;
      if (unrepeated.some(({ touches }) => rowsOf(rows).some(touches))) return null;
      return fit.test(rows).p;
    };
  };
}

/**
 * A test on the df of the unit that contains the term itself: its contrasts may touch coefficients
 * of terms that vary between larger units, merely because the data are unbalanced.
 */
function asContained(test: TermTest, fit: MixedFit, term: DesignTerm): TermTest {
  const columns = fit.coefficients.length;
  const own = term.columns.filter((j) => !Number.isNaN(fit.coefficients[j]));
  if (own.length === 0) return test;
  const rows = own.map((j) => new Float64Array(columns).fill(1, j, j + 1));
  const { dfError } = fit.test(fromRows(rows, columns));
  return { ...test, dfError, p: dfError < 1 ? NaN : fUpper(test.statistic, test.df, dfError) };
}

/** A term of which there is nothing to tell but its df. */
function untestedRow(term: string, df: number): TermRow {
  const none = { ss: null, ms: null, dfError: null, statistic: null, p: null, stratum: null };
  return { term, df, kind: 'F', ...none };
}

interface CovarianceFit {
  readonly fit: MixedFit;
  readonly random: readonly UnitCodes[];
  readonly spatial: FitResult['spatial'];
  readonly words: string;
}

function fitCovariance(request: FitRequest, table: DataTable, design: Design): CovarianceFit {
  const { random, words, fits } = covarianceFits(request, table, design);
  const fit = fits(design.y);
  return { fit, random, words, spatial: 'spatial' in fit ? fit.spatial : null };
}

interface CovarianceFits {
  readonly random: readonly UnitCodes[];
  readonly words: string;
  /** One response after another to the same layout. */
  readonly fits: (y: Float64Array) => MixedFit | Ar1Fit;
}

function covarianceFits(request: FitRequest, table: DataTable, design: Design): CovarianceFits {
  const { x, rowIndex } = design;
  const { position } = request;
  const denominator = request.denominator === 'units' ? 'kenward-roger' : request.denominator;
  const random = randomUnits(request, table, rowIndex);
  const words = random.length > 0 ? `random ${list(random.map((unit) => unit.unit))}` : '';
  const independent = () => ({ fits: mixedFits({ x, random, denominator }), random, words });
  if (position === null) return independent();
  const { model } = position;
  const place = () => ({
    row: readNumbers(table, position.row, rowIndex, 'row'),
    column: readNumbers(table, position.column, rowIndex, 'column'),
    group: combineColumns(table, position.within, rowIndex).codes,
  });
  const within = position.within.length > 0 ? ` within ${crossedName(position.within)}` : '';
  const withUnits = (own: string) => (words ? `${own} and ${words}` : own);
  switch (model) {
    case 'edge':
    case 'linear':
    case 'rows+columns':
      return independent();
    case 'smooth': {
      const fits = smoothFits({ x, ...place(), random, denominator });
      const surface = withUnits(`a smooth surface over rows and columns${within}`);
      return { fits, random, words: surface };
    }
    case 'ar1': {
      const at = place();
      refuseSharedPlaces(at, rowIndex, position.within);
      const fits = (y: Float64Array) => fitAr1({ x, y, ...at, random, denominator });
      const correlated =
        'errors correlated along rows and columns (first-order autoregressive in both, and a ' +
        `nugget)${within}`;
      return { fits, random, words: withUnits(correlated) };
    }
    default:
      return model satisfies never;
  }
}

/** The largest unit whose rows all share the term's levels and values; else `residual`. */
function stratumOf(design: Design, term: DesignTerm, random: readonly UnitCodes[]): string {
  return errorTermOf(design, term, random).unit?.unit ?? 'residual';
}

/** Joint test of all that the treatments add to the other terms. */
function waldTest(
  fit: MixedFit,
  design: Design,
  unrepeated: readonly UnrepeatedUnit[],
): FitResult['wald'] {
  const treated = design.terms.some((term) => term.role === 'treatment');
  const contrasts = jointContrasts(design, (term) => !treated || term.role === 'treatment');
  if (contrasts.rows === 0) return null;
  if (unrepeated.some(({ touches }) => rowsOf(contrasts).some(touches))) return null;
  const { df, statistic, kind } = fit.test(contrasts);
  return { chiSquare: kind === 'F' ? statistic * df : statistic, df };
}
