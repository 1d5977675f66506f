import type { DataTable, FitRequest, TermRow } from '../../../../shared-types/fit';
import { devianceTest, fitCounts } from '../counts';
import type { CountsKind } from '../counts';
import type { Design } from '../design';
import { termColumnSets } from '../hypotheses';
import { spaceOf } from '../linear';
import { readNumbers } from '../table';
import { noExtras } from './analysis';
import type { Analysis } from './analysis';
import { lostDfWarning } from './linearModel';
import { aliasWarnings, modelWords, testWords } from './words';
import { figures, Refusal } from '../../../words';
import { whole } from '../../entry';

const kindWords: Record<CountsKind, string> = {
  poisson: 'Poisson counts',
  'quasi-poisson': 'Counts with a variance in proportion to their mean (quasi-Poisson)',
  'negative-binomial': 'Negative binomial counts, θ by maximum likelihood',
};

/** Counts on the log scale; residuals are Pearson's. */
export function analyseCounts(
  request: FitRequest,
  kind: CountsKind,
  table: DataTable,
  design: Design,
): Analysis {
  if (request.randomUnits.length > 0 || request.exactStrata) {
    throw new Refusal(
      'counts: found randomUnits or exactStrata beside counts; expected counts with fixed blocks ' +
        'alone (or the scale log1p or sqrt, which takes units of every kind)',
    );
  }
  const exposure = request.offset === null ? null : logExposure(request.offset, table, design);
  const input = { x: design.x, y: design.y, ...(exposure ? { offset: exposure } : {}) };
  const full = fitCounts(input, kind);
  const warnings = [...aliasWarnings(design, full.space), ...full.warnings];
  if (full.onlyZeros.length > 0) warnings.push(onlyZerosWarning(design, full.onlyZeros));
  if (kind === 'poisson' && full.dispersion > 1.5) {
    warnings.push(
      `The counts vary ${figures(full.dispersion, 3)} times as much as Poisson counts would: ` +
        'a quasi-Poisson model would be safer.',
    );
  }
  warnings.push(...crowdedWarning(design, kind));
  const sets = termColumnSets(design, request.tests);
  const terms = design.terms.map((term, i): TermRow => {
    const columns = sets[i];
    const test = columns ? devianceTest(full, input, kind, columns) : null;
    const lost = lostDfWarning(term.name, test?.df ?? 0, term.columns.length);
    if (lost) warnings.push(lost);
    return {
      term: term.name,
      df: test?.df ?? 0,
      ss: null,
      ms: null,
      dfError: test && Number.isFinite(test.dfError) ? test.dfError : null,
      statistic: test?.statistic ?? null,
      kind: kind === 'quasi-poisson' ? 'F' : 'chi-square',
      p: test?.p ?? null,
      stratum: null,
    };
  });
  return {
    ...noExtras,
    model: full,
    design,
    qr: full.space,
    terms,
    residual: null,
    logLik: full.aic === null ? null : full.logLik,
    criterion: full.aic === null ? null : 'ML',
    aic: full.aic,
    dispersion: full.dispersion,
    fitted: full.mu,
    residuals: design.y.map((value, j) => {
      const mu = full.mu[j] ?? 1;
      return (value - mu) / Math.sqrt(full.family.variance(mu));
    }),
    undo: Math.exp,
    method: [
      `${kindWords[kind]}: ${modelWords(request, design)}, on the log scale, by maximum likelihood.`,
      ...testWords(request, design),
      kind === 'quasi-poisson'
        ? 'Tests compare deviances over the Pearson dispersion.'
        : 'Tests are likelihood ratios.',
      ...(request.offset === null
        ? []
        : [`The logarithm of ${request.offset} is a known part; means are per unit of it.`]),
      'A single difference has its interval by profile likelihood, as its test is a likelihood ' +
        'ratio; families of differences rest on their standard errors.',
      'Residuals are Pearson residuals.',
    ],
    warnings,
  };
}

/** Rows over residual df from which on tests with an estimated dispersion err by some per cent. */
const CROWDED = 1.1;

/** Whether a design has few rows for its coefficients. */
export function isCrowded({ x }: Design): boolean {
  return x.rows > CROWDED * (x.rows - spaceOf(x).rank);
}

/** How the warning of such counts begins. */
export const CROWDED_COUNTS = 'Few counts for their coefficients';

/**
 * θ by maximum likelihood takes no account of the coefficients that are estimated beside it, so that
 * likelihood ratios come out too large, by about rows over residual df; and F is no F where few counts
 * vary much. tests/bench/count-rates.json has the rates.
 */
function crowdedWarning(design: Design, kind: CountsKind): string[] {
  if (kind === 'poisson' || !isCrowded(design)) return [];
  const { rank } = spaceOf(design.x);
  const errs =
    kind === 'negative-binomial'
      ? 'negative binomial tests call far too many differences'
      : 'quasi-Poisson tests call up to twice as many differences as they should';
  return [
    `${CROWDED_COUNTS} (${design.y.length} for ${rank}): ${errs}. Square roots keep to the level.`,
  ];
}

/** Names the levels (or the combinations, where no level is zero throughout) with only zero counts. */
function onlyZerosWarning(design: Design, rows: readonly number[]): string {
  const zero = new Set(rows);
  const treatments = design.terms.flatMap((term) =>
    term.role === 'treatment' && term.factors.length === 1 ? term.factors : [],
  );
  const levels = treatments.flatMap((name) => {
    const factor = design.factors.get(name);
    return (factor?.levels ?? []).flatMap((level, code) =>
      factor?.codes.every((own, i) => own !== code || zero.has(i)) ? [`${name} ${level}`] : [],
    );
  });
  const cells = rows.map((i) =>
    treatments
      .map((name) => {
        const factor = design.factors.get(name);
        return `${name} ${factor?.levels[whole(factor.codes, i)] ?? ''}`;
      })
      .join(', '),
  );
  const named = levels.length > 0 ? levels : [...new Set(cells)];
  return (
    `There are only zero counts at ${named.join('; ')}. Their mean is zero as counted; on the log ` +
    'scale it has no finite value, so their means and differences are left out. The test of the ' +
    'term stands.'
  );
}

/** Logarithms of the exposure of each row. */
export function logExposure(name: string, table: DataTable, design: Design): Float64Array {
  return readNumbers(table, name, design.rowIndex, 'offset').map((value, i) => {
    if (value > 0) return Math.log(value);
    throw new Refusal(
      `column "${name}", row ${whole(design.rowIndex, i) + 1}: found ${value} as offset; an exposure ` +
        'above 0 is expected, its logarithm is taken here',
    );
  });
}
