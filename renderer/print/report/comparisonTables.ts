import type { ComparisonRow, FitResult } from '../../../shared-types/fit';
import {
  effectSize,
  isFixedBefore,
  isRatio,
  type Findings,
  type Sized,
} from '../../engine/findings';
import { capital } from '../../words';
import {
  df,
  estimate,
  numberCell,
  p,
  intervalWords,
  shown,
  words,
  type ReportCell,
  type FindingsTable,
} from './cells';

export type Comparison = FitResult['comparisons'][number];

const METHOD_WORDS: Record<Comparison['method'], string> = {
  tukey: 'all pairs, after Tukey and Kramer',
  dunnett: 'against the control, after Dunnett',
  holm: 'all pairs, after Holm (intervals after Bonferroni)',
  bonferroni: 'all pairs, after Bonferroni',
  none: 'without adjustment for their number',
};

/** How differences are adjusted for their number. */
export function adjustmentWords({ method, randomised }: Comparison): string {
  if (!randomised) return METHOD_WORDS[method];
  switch (method) {
    case 'none':
      return `${METHOD_WORDS.none}, by randomisation`;
    case 'dunnett':
      return 'against the control, by the largest |t| over layouts';
    case 'tukey':
      return 'all pairs, by the largest |t| over layouts';
    case 'holm':
    case 'bonferroni':
      return `all pairs, by the largest |t| over layouts (in place of ${capital(method)})`;
    default:
      return method satisfies never;
  }
}

/** Differences between levels of one factor, or their ratios, with errors and intervals. */
export function comparisonTable(findings: Findings, comparison: Comparison): FindingsTable {
  const of = comparison.of.join(' × ');
  const [by] = comparison.by;
  const as = shown(findings);
  return {
    name: `comparisons ${of}${by === undefined ? '' : ` by ${by}`} ${comparison.method}`,
    caption: `${as.many} between levels of ${of}${by === undefined ? '' : ` at each level of ${by}`}${as.unit}; ${adjustmentWords(comparison)}`,
    columns: [
      ...(by === undefined ? [] : [{ head: by }]),
      { head: 'Pair' },
      { head: as.head, numeric: true },
      { head: intervalWords(findings), numeric: true },
      ...as.errors,
      { head: 'p', numeric: true },
    ],
    rows: comparison.rows.map((row: ComparisonRow) => [
      ...(by === undefined ? [] : [words(row.within?.[by] ?? '')]),
      words(`${row.a} ${isRatio(findings.scale) ? '÷' : '−'} ${row.b}`),
      ...as.estimate(row.difference, row.lower, row.upper),
      numberCell(row.se, 2),
      numberCell(row.lsd, 2),
      p(row.p, findings.alpha),
    ]),
  };
}

/** The same differences as a share and over the SD among pots; null where neither can be had. */
export function effectSizeTable(findings: Findings, comparison: Comparison): FindingsTable | null {
  if (comparison.by.length > 0) return null;
  const of = comparison.of.join(' × ');
  const sizes = comparison.rows.map((row) => ({
    row,
    ...effectSize(findings.primary.result, of, row, findings.scale, findings.averaged),
  }));
  const withPercent = sizes.some((size) => size.percent !== null);
  const withSd = sizes.some(({ standardised }) => standardised !== null);
  if (!withPercent && !withSd) return null;
  return {
    name: `effect sizes ${of} ${comparison.method}`,
    caption: `Effect sizes between levels of ${of}; intervals as of the ${shown(findings).many.toLowerCase()}`,
    columns: [
      { head: 'A and B' },
      ...(withPercent ? sizedHeads(findings, 'A − B in % of B') : []),
      ...(withSd ? sizedHeads(findings, 'A − B ÷ SD of pots') : []),
    ],
    rows: sizes.map(({ row, percent: share, standardised }) => [
      words(`${row.a} and ${row.b}`),
      ...(withPercent ? sized(share) : []),
      ...(withSd ? sized(standardised) : []),
    ]),
    ...(withSd ? { note: sdWords(findings) } : {}),
  };
}

function sdWords({ primary }: Findings): string {
  return primary.result.spatial
    ? 'SD of pots: among pots treated alike, with what neighbouring pots share; this model gives its effect sizes no bounds.'
    : 'SD of pots: among pots treated alike, position and covariates allowed for.';
}

function sizedHeads(findings: Findings, head: string): FindingsTable['columns'] {
  return [
    { head, numeric: true },
    { head: intervalWords(findings), numeric: true },
  ];
}

/** An effect size with its interval, where the data set one. */
function sized(size: Sized | null): [ReportCell, ReportCell] {
  if (!size) return [numberCell(null), numberCell(null)];
  const { value, lower, upper } = size;
  return lower === null || upper === null
    ? [numberCell(value, 2), words('no bounds')]
    : estimate(value, lower, upper);
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
      { head: intervalWords(findings), numeric: true },
      { head: 't', numeric: true },
      { head: 'df', numeric: true },
      { head: 'p', numeric: true },
      ...(added ? [{ head: 'Fixed before harvest' }] : []),
    ],
    rows: contrasts.map((row) => [
      words(row.of),
      words(row.name),
      ...as.estimate(row.estimate, row.lower, row.upper),
      numberCell(row.statistic),
      df(row.df),
      p(row.p, findings.alpha),
      ...(added ? [words(isFixedBefore(findings, row) ? 'yes' : 'no')] : []),
    ]),
  };
}
