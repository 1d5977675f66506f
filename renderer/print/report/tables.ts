import type { ComparisonRow, FitResult, MeanRow, TermRow } from '../../../shared-types/fit';
import {
  criterionGap,
  differenceShown,
  differenceUnit,
  effectSize,
  inPlanOrder,
  isFixedBefore,
  isRatio,
  mainComparison,
  meanShown,
  partialEtaSquared,
  POSITION_WORDS,
  said,
  saidDf,
  sensitivityOf,
  type Effect,
  type Findings,
  type SensitivityRow,
} from '../../derive';

/** A cell as it is read, and as it goes into a file of numbers. */
export interface Cell {
  text: string;
  value: string | number | null;
  strong?: boolean;
  /** Both ends of an interval; `value` is then its words. */
  ends?: readonly [number, number];
  /** The pot it speaks of, by id. */
  potId?: string;
}

/** One table of the findings, the same on screen, in the report and in a file. */
export interface FindingsTable {
  name: string;
  caption: string;
  columns: { head: string; unit?: string; numeric?: boolean }[];
  rows: Cell[][];
  /** Row to be set apart, counted from 0. */
  marked?: number;
}

export const words = (text: string): Cell => ({ text, value: text });

export function num(value: number | null | undefined, significant = 3): Cell {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return { text: '–', value: null };
  }
  return { text: said(value, '', significant), value };
}

const p = (value: number | null | undefined): Cell =>
  value === null || value === undefined
    ? { text: '–', value: null }
    : { text: value < 0.001 ? '< 0.001' : value.toFixed(3), value };

const df = (value: number | null): Cell => ({
  text: value === null ? '–' : saidDf(value),
  value,
});

const range = (lower: number, upper: number): Cell => ({
  text: `${said(lower)} to ${said(upper)}`,
  value: `${said(lower)} to ${said(upper)}`,
  ends: [lower, upper],
});

/** Differences, or ratios where the model is one of logarithms, as they are shown. */
function shown(findings: Findings) {
  const show = (difference: number) => differenceShown(findings, difference);
  const ratio = isRatio(findings.scale);
  return {
    head: ratio ? 'Ratio' : 'Difference',
    many: ratio ? 'Ratios' : 'Differences',
    unit: ratio ? '' : `, ${differenceUnit(findings)}`,
    num: (difference: number) => num(show(difference)),
    range: (lower: number, upper: number) => range(show(lower), show(upper)),
  };
}

function percent(findings: Findings): string {
  return `${Number((findings.confidence * 100).toFixed(2))} % interval`;
}

/** The answer under every way of allowing for position: likeness left, criterion, each verdict. */
export function positionTable(findings: Findings): FindingsTable {
  const { tested } = findings.design;
  return {
    name: 'position models',
    caption: 'The same question under every way of allowing for position',
    columns: [
      { head: 'Allowing for position by' },
      ...tested.map((role) => ({ head: `${role.factor.name}: p`, numeric: true })),
      { head: 'Moran’s I', unit: 'side by side', numeric: true },
      { head: 'Moran’s I', unit: 'corners too', numeric: true },
      { head: 'AIC', unit: 'above the lowest', numeric: true },
    ],
    rows: findings.positions.map((position) => [
      words(
        POSITION_WORDS[position.model] +
          (position.model === findings.primary.model ? ' (answers)' : ''),
      ),
      ...tested.map((role): Cell => {
        const term = position.result.terms.find((t) => t.term === role.column);
        const judged = position.model !== 'ar1' || role.unit === 'pot';
        return judged ? p(term?.p) : { text: 'not judged', value: null };
      }),
      moranCell(position.rook),
      moranCell(position.queen),
      { ...num(criterionGap(findings.positions, position)), ...gapText(findings, position) },
    ]),
    marked: findings.positions.indexOf(findings.primary),
  };
}

function gapText(findings: Findings, position: Findings['primary']): { text: string } {
  const gap = criterionGap(findings.positions, position);
  return { text: gap === null ? '–' : gap.toFixed(1) };
}

function moranCell(likeness: { i: number; p: number } | null): Cell {
  if (!likeness) return { text: '–', value: null };
  const pText = likeness.p < 0.001 ? '< 0.001' : likeness.p.toFixed(3);
  return { text: `${said(likeness.i, '', 2)} (p ${pText})`, value: likeness.i };
}

/** Words that stand in the first row of their group only, and in every row of a file. */
const onceOnly = (text: string, row: number): Cell => ({
  text: row === 0 ? text : '',
  value: text,
});

/** Every difference with its interval under each position model. */
export function sensitivityTable(
  findings: Findings,
  rows: readonly SensitivityRow[] = sensitivityOf(findings),
): FindingsTable {
  const as = shown(findings);
  return {
    name: 'position differences',
    caption: `${as.many} in ${findings.response.name}${as.unit}, with ${percent(findings)}s, under each way of allowing for position`,
    columns: [
      { head: 'Factor' },
      { head: as.head },
      { head: 'Allowing for position by' },
      { head: 'Estimate', numeric: true },
      { head: percent(findings), numeric: true },
      { head: 'p', numeric: true },
    ],
    rows: rows.flatMap((row) =>
      row.cells.map((cell, i) => [
        onceOnly(row.factor, i),
        onceOnly(row.label, i),
        words(POSITION_WORDS[cell.model]),
        as.num(cell.estimate),
        as.range(cell.lower, cell.upper),
        cell.judged ? p(cell.p) : { text: 'not judged', value: null },
      ]),
    ),
  };
}

/** What place does by itself: edge, slope over the trays, light. Each from its own position model. */
export function effectsTable(findings: Findings): FindingsTable {
  const { edge, gradient, light } = findings;
  const as = shown(findings);
  const rows: [string, Effect | null | undefined, number][] = [
    ['edge pots against inner pots', edge, 1],
    ['a row towards the back', gradient?.perRow, 1],
    ['a column to the right', gradient?.perColumn, 1],
    ['10 µmol m⁻² s⁻¹ more light', light, 10],
  ];
  return {
    name: 'position effects',
    caption: `What place goes with, treatments and blocks allowed for${as.unit}`,
    columns: [
      { head: 'Place' },
      { head: as.head, numeric: true },
      { head: percent(findings), numeric: true },
      { head: 'p', numeric: true },
    ],
    rows: rows.flatMap(([name, effect, times]) =>
      effect
        ? [
            [
              words(name),
              { ...as.num(effect.difference * times), strong: true },
              as.range(effect.lower * times, effect.upper * times),
              p(effect.p),
            ],
          ]
        : [],
    ),
  };
}

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
