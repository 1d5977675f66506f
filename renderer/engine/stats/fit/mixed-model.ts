import type { DataTable, FitRequest, FitResult, TermRow } from '../../../../shared-types/fit';
import { randomUnits } from '../design';
import type { Design } from '../design';
import { jointContrasts, termContrasts } from '../hypotheses';
import { factorise } from '../linear';
import { fitMixed } from '../mixed';
import type { MixedFit } from '../mixed';
import { scaleRules } from '../table';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { lostDfWarning, requireResidual } from './linear-model';
import { aliasWarnings, listWords, modelWords, testWords } from './words';

const denominatorWords: Record<FitRequest['denominator'], string> = {
  satterthwaite: 'Degrees of freedom after Satterthwaite.',
  'kenward-roger': 'Covariance and degrees of freedom after Kenward and Roger.',
  containment: 'Degrees of freedom of the unit that contains each term.',
  asymptotic: 'Tests and intervals take the variances as known.',
};

/** Random units, and position models with a covariance of their own, by REML. */
export function analyseMixed(request: FitRequest, table: DataTable, design: Design): Analysis {
  const qr = factorise(design.x);
  requireResidual(design, design.x.rows - qr.rank);
  const { fit, spatial, words } = fitCovariance(request, table, design);
  const warnings = [...aliasWarnings(design, qr), ...fit.warnings];
  const contrasts = termContrasts(design, request.tests);
  const terms = design.terms.map((term, i): TermRow => {
    const rows = contrasts[i];
    const test = rows && rows.rows > 0 ? fit.test(rows) : null;
    const lost = lostDfWarning(term.name, rows?.rows ?? 0, term.columns.length);
    if (lost) warnings.push(lost);
    return {
      term: term.name,
      df: test?.df ?? 0,
      ss: null,
      ms: null,
      dfError: test && Number.isFinite(test.dfError) ? test.dfError : null,
      statistic: test?.statistic ?? null,
      kind: test?.kind ?? 'F',
      p: test?.p ?? null,
      stratum: null,
    };
  });
  return {
    ...noExtras,
    model: fit,
    design,
    qr,
    terms,
    residual: null,
    variance: fit.variance,
    logLik: fit.logLik,
    criterion: fit.criterion,
    aic: fit.aic,
    spatial,
    wald: request.denominator === 'asymptotic' ? waldTest(fit, design) : null,
    fitted: fit.fitted,
    residuals: design.y.map((value, i) => value - (fit.fitted[i] ?? 0)),
    undo: request.scale === 'identity' ? null : scaleRules[request.scale].undo,
    method: [
      `Mixed model of ${modelWords(request, design)}, with ${words}, by REML.`,
      ...testWords(request, design),
      denominatorWords[request.denominator],
    ],
    warnings,
  };
}

interface CovarianceFit {
  readonly fit: MixedFit;
  readonly spatial: FitResult['spatial'];
  readonly words: string;
}

function fitCovariance(request: FitRequest, table: DataTable, design: Design): CovarianceFit {
  const { x, y } = design;
  const { denominator } = request;
  const random = randomUnits(request, table, design.rowIndex);
  const words = `random ${listWords(random.map((unit) => unit.unit))}`;
  return { fit: fitMixed({ x, y, random, denominator }), spatial: null, words };
}

/** Joint test of all that the treatments add to the other terms. */
function waldTest(fit: MixedFit, design: Design): FitResult['wald'] {
  const treated = design.terms.some((term) => term.role === 'treatment');
  const contrasts = jointContrasts(design, (term) => !treated || term.role === 'treatment');
  if (contrasts.rows === 0) return null;
  const { df, statistic, kind } = fit.test(contrasts);
  return { chiSquare: kind === 'F' ? statistic * df : statistic, df };
}
