import type { ComparisonRow, FitResult, MeanRow, TermRow } from '../../../shared-types/fit';
import {
  effectSize,
  inPlanOrder,
  isFixedBefore,
  isRatio,
  mainComparison,
  meanShown,
  partialEtaSquared,
  type Findings,
} from '../../engine/findings';
import { df, num, p, percent, range, shown, words, type Cell, type FindingsTable } from './cells';
import { effectsTable, positionTable, sensitivityTable } from './positionTables';

/** What the variation goes with. */
export function termsTable(findings: Findings): FindingsTable {
  const { result } = findings.primary;
  const tested = new Set(findings.design.tested.map((role) => role.column));
  // Blocks and covariates are there to be allowed for; a p for them answers no question asked.
  const isTested = (term: TermRow) => term.term.split(' × ').every((part) => tested.has(part));
  const withSs = result.terms.some((term) => term.ss !== null);
  const withF = result.terms.some((term) => term.kind === 'F');
  const none: Cell = { text: '', value: null };
  return {
    name: 'analysis',
    caption: `What the variation of ${findings.response.name} goes with`,
    columns: [
      { head: 'Source' },
      { head: 'df', numeric: true },
      ...(withSs ? [{ head: 'Sum of squares', numeric: true }] : []),
      ...(withF ? [{ head: 'Error df', numeric: true }] : []),
      { head: withF ? 'F' : 'χ²', numeric: true },
      { head: 'p', numeric: true },
      ...(withF ? [{ head: 'Partial η²', numeric: true }] : []),
    ],
    rows: result.terms.map((term) => [
      words(term.term),
      df(term.df),
      ...(withSs ? [num(term.ss, 5)] : []),
      ...(withF ? [isTested(term) ? df(term.dfError) : none] : []),
      isTested(term) ? num(term.statistic, 4) : none,
      isTested(term) ? p(term.p) : none,
      ...(withF ? [isTested(term) ? num(partialEtaSquared(term), 2) : none] : []),
    ]),
  };
}

export function varianceTable(findings: Findings): FindingsTable | null {
  const { variance } = findings.primary.result;
  if (variance.length < 2) return null;
  const total = variance.reduce((sum, row) => sum + row.variance, 0);
  return {
    name: 'variances',
    caption: 'Where the unexplained variation lies',
    columns: [
      { head: 'Among' },
      { head: 'Variance', numeric: true },
      { head: 'Share', unit: '%', numeric: true },
    ],
    rows: variance.map((row) => [
      words(row.unit === 'residual' ? 'pots treated alike' : row.unit),
      num(row.variance, 4),
      total > 0 ? num((100 * row.variance) / total, 2) : num(null),
    ]),
  };
}

/** Adjusted means of one factor or of combinations. */
export function meansTable(findings: Findings, of: readonly string[]): FindingsTable | null {
  const group = findings.primary.result.means.find(
    (m) => m.of.length === of.length && m.of.every((name) => of.includes(name)),
  );
  const single = of.length === 1 ? of[0] : undefined;
  if (!group || group.rows.length === 0) return null;
  const letters = findings.primary.result.comparisons.find(
    (c) => c.method === 'tukey' && c.by.length === 0 && c.of.length === 1 && c.of[0] === single,
  )?.letters;
  return {
    name: `means ${of.join(' by ')}`,
    caption: `Adjusted means by ${of.join(' and ')}, ${findings.response.unit}${findings.scale === null ? '' : `, taken back from ${isRatio(findings.scale) ? 'logarithms' : 'square roots'}`}`,
    columns: [
      ...of.map((head) => ({ head })),
      { head: 'Mean', numeric: true },
      ...(findings.scale === null ? [{ head: 'SE', numeric: true }] : []),
      { head: percent(findings), numeric: true },
      ...(letters && single ? [{ head: 'Alike' }] : []),
    ],
    rows: inPlanOrder(group.rows, of, findings.roles).map((row: MeanRow) => {
      const { mean, lower, upper } = meanShown(row);
      return [
        ...of.map((name) => words(String(row[name]))),
        { ...num(mean, 4), strong: true },
        // A standard error belongs to the scale that was analysed, which is not that of the mean.
        ...(findings.scale === null ? [num(row.se)] : []),
        range(lower, upper),
        ...(letters && single ? [words(letters[String(row[single])] ?? '')] : []),
      ];
    }),
  };
}

export type Comparison = FitResult['comparisons'][number];

export const METHOD_WORDS: Record<Comparison['method'], string> = {
  tukey: 'all pairs, after Tukey and Kramer',
  dunnett: 'against the control, after Dunnett',
  holm: 'all pairs, after Holm (intervals after Bonferroni)',
  bonferroni: 'all pairs, after Bonferroni',
  none: 'without adjustment for their number',
};

/** Differences between levels of one factor, in the unit, as a share, and over the sd among pots. */
export function comparisonTable(findings: Findings, comparison: Comparison): FindingsTable {
  const { result } = findings.primary;
  const of = comparison.of.join(' × ');
  const [by] = comparison.by;
  const sizes = comparison.rows.map((row) => effectSize(result, of, row, findings.scale));
  const as = shown(findings);
  const withPercent = by === undefined && sizes.some(({ percent: share }) => share !== null);
  const withSd = by === undefined && sizes.some(({ standardised }) => standardised !== null);
  return {
    name: `comparisons ${of}${by === undefined ? '' : ` by ${by}`} ${comparison.method}`,
    caption: `${as.many} between levels of ${of}${by === undefined ? '' : ` at each level of ${by}`}${as.unit}; ${METHOD_WORDS[comparison.method]}`,
    columns: [
      ...(by === undefined ? [] : [{ head: by }]),
      { head: 'Pair' },
      { head: as.head, numeric: true },
      { head: percent(findings), numeric: true },
      { head: 'p', numeric: true },
      ...(withPercent ? [{ head: 'Of the second', unit: '%', numeric: true }] : []),
      ...(withSd ? [{ head: 'Over sd of pots', numeric: true }] : []),
    ],
    rows: comparison.rows.map((row: ComparisonRow, i) => [
      ...(by === undefined ? [] : [words(row.within?.[by] ?? '')]),
      words(`${row.a} ${isRatio(findings.scale) ? '÷' : '−'} ${row.b}`),
      { ...as.num(row.difference), strong: true },
      as.range(row.lower, row.upper),
      p(row.p),
      ...(withPercent ? [num(sizes[i]?.percent, 2)] : []),
      ...(withSd ? [num(sizes[i]?.standardised, 2)] : []),
    ]),
  };
}

/** Planned comparisons; null where none was planned. */
export function contrastTable(findings: Findings): FindingsTable | null {
  const { contrasts } = findings.primary.result;
  if (contrasts.length === 0) return null;
  const as = shown(findings);
  const added = contrasts.some((row) => !isFixedBefore(findings, row));
  return {
    name: 'planned comparisons',
    caption: `Comparisons stated in the plan${as.unit}; not adjusted for their number`,
    columns: [
      { head: 'Factor' },
      { head: 'Comparison' },
      { head: 'Estimate', numeric: true },
      { head: percent(findings), numeric: true },
      { head: 't', numeric: true },
      { head: 'df', numeric: true },
      { head: 'p', numeric: true },
      ...(added ? [{ head: 'Fixed before harvest' }] : []),
    ],
    rows: contrasts.map((row) => [
      words(row.of),
      words(row.name),
      { ...as.num(row.estimate), strong: true },
      as.range(row.lower, row.upper),
      num(row.statistic),
      df(row.df),
      p(row.p),
      ...(added ? [words(isFixedBefore(findings, row) ? 'yes' : 'no')] : []),
    ]),
  };
}

/** Pots that stand out, worst first; the first twelve by Cook's distance where none does. */
export function potsTable(findings: Findings): FindingsTable {
  const { pots } = findings.checks;
  const named = pots.filter((pot) => pot.outlying || pot.influential);
  const shown = (named.length > 0 ? named : pots.filter((pot) => pot.cook !== null))
    .sort((a, b) => (b.cook ?? 0) - (a.cook ?? 0))
    .slice(0, named.length > 0 ? named.length : 6);
  return {
    name: 'pots that stand out',
    caption:
      named.length > 0
        ? 'Pots that lie far out or would move the answers alone'
        : 'No pot stands out; those that weigh most',
    columns: [
      { head: 'Pot' },
      { head: 'Value', unit: findings.response.unit, numeric: true },
      { head: 'Expected', unit: findings.response.unit, numeric: true },
      { head: 'Residual', unit: 'sd', numeric: true },
      { head: 'Studentised', numeric: true },
      { head: 'Cook’s distance', numeric: true },
      ...(named.length > 0 ? [{ head: 'Stands out as' }] : []),
    ],
    rows: shown.map((pot) => [
      { ...words(pot.code), potId: pot.potId },
      num(pot.value, 4),
      num(pot.fitted, 4),
      num(pot.standardised),
      num(pot.studentised),
      num(pot.cook, 2),
      ...(named.length > 0
        ? [
            words(
              [pot.outlying ? 'outlying' : '', pot.influential ? 'influential' : '']
                .filter(Boolean)
                .join(', '),
            ),
          ]
        : []),
    ]),
  };
}

/** Every table of the findings, in the order of the report. */
export function findingsTables(findings: Findings): FindingsTable[] {
  const { tested } = findings.design;
  const { result } = findings.primary;
  const found: (FindingsTable | null)[] = [
    positionTable(findings),
    effectsTable(findings),
    sensitivityTable(findings),
    termsTable(findings),
    varianceTable(findings),
    ...result.means
      .filter((m) => m.of.every((name) => tested.some((role) => role.column === name)))
      .map((m) => meansTable(findings, m.of)),
    contrastTable(findings),
    ...result.comparisons
      .filter((c) => c.of.every((name) => tested.some((role) => role.column === name)))
      .map((c) => comparisonTable(findings, c)),
    potsTable(findings),
  ];
  return found.filter((table) => table !== null && table.rows.length > 0) as FindingsTable[];
}

/** The comparisons that the report prints: what was planned first, then the main ones. */
export function mainComparisons(findings: Findings): FindingsTable[] {
  return findings.design.tested.flatMap((role) => {
    const main = mainComparison(findings.primary.result, role);
    return main ? [comparisonTable(findings, main)] : [];
  });
}
