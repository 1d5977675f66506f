import * as Plot from '@observablehq/plot';
import type { PositionModel } from '../../../../shared-types/trial/position';
import {
  differenceShown,
  differenceUnit,
  isRatio,
  noDifference,
  positionHeads,
  positionWords,
  sensitivityOf,
  type Findings,
  type SensitivityRow,
} from '../../../engine/findings';
import { inSentence, list } from '../../../words';
import { AS_WITHOUT } from '../positionTables';
import { drawFigure, type Figure, type FigureSize } from './draw';

/** Pairs that are drawn of one factor beside the planned comparisons: the widest. */
const PAIRS_DRAWN = 2;

/** The rows of the sensitivity table that are worth a place in the figure. */
export function drawnRows(findings: Findings): SensitivityRow[] {
  const rows = sensitivityOf(findings);
  return findings.design.tested.flatMap(({ factor }) => {
    const own = rows.filter((row) => row.factor === factor.name);
    const size = (row: SensitivityRow) =>
      Math.abs(row.cells.find((c) => c.model === findings.primary.model)?.estimate ?? 0);
    return [
      ...own.filter((row) => row.planned),
      ...own
        .filter((row) => !row.planned)
        .sort((a, b) => size(b) - size(a))
        .slice(0, PAIRS_DRAWN),
    ];
  });
}

/** Long names of models have room from so wide a figure on. */
const WIDE_PX = 460;
const LINE_PX = 14;
const HEAD_PX = 22;

/** A line of the figure, at its height. */
interface Line {
  y: number;
  /** A pair's name above its models, or a model's before its interval. */
  words: string;
  head: boolean;
  interval: { estimate: number; lower: number; upper: number; primary: boolean } | null;
}

/** Each difference with its interval under every way of allowing for position. */
export function sensitivityFigure(findings: Findings, size: FigureSize): Figure | null {
  const rows = drawnRows(findings);
  if (rows.length === 0) return null;
  const ratio = isRatio(findings.scale);
  const { lines, height } = linesFrom(findings, rows, size.width < WIDE_PX);
  const heads = lines.filter(({ head }) => head);
  const models = lines.filter(({ head }) => !head);
  const cells = lines.flatMap(({ y, interval }) => (interval ? [{ y, ...interval }] : []));
  const left = size.width < WIDE_PX ? 150 : 250;
  const many = findings.positions.length;
  const label =
    `${ratio ? 'Ratios' : 'Differences'} in ${findings.response.name} with their intervals under ${many} corrections for ` +
    'place; filled: the one that gives the result.';
  return drawFigure('position', label, size, {
    height: height + 44,
    marginLeft: left,
    marginRight: 12,
    marginTop: 4,
    marginBottom: 40,
    x: {
      label: ratio
        ? 'ratio'
        : ['difference', differenceUnit(findings)].filter((part) => part !== '').join(', '),
      grid: true,
      labelAnchor: 'center',
      ...(ratio ? { type: 'log' as const, ticks: 5, tickFormat: '~g' } : {}),
    },
    y: { axis: null, domain: [0, height], reverse: true },
    marks: [
      Plot.ruleX([noDifference(findings)], { stroke: 'currentColor' }),
      Plot.text(heads, {
        y: 'y',
        text: 'words',
        frameAnchor: 'left',
        textAnchor: 'start',
        dx: 4 - left,
        fontWeight: 700,
      }),
      Plot.text(models, {
        y: 'y',
        text: 'words',
        frameAnchor: 'left',
        textAnchor: 'end',
        dx: -8,
        fontSize: 11,
      }),
      Plot.ruleY(cells, {
        y: 'y',
        x1: 'lower',
        x2: 'upper',
        stroke: 'currentColor',
        strokeWidth: (d: (typeof cells)[number]) => (d.primary ? 2.4 : 1.1),
      }),
      Plot.dot(cells, {
        y: 'y',
        x: 'estimate',
        r: 4,
        stroke: 'currentColor',
        fill: (d: (typeof cells)[number]) => (d.primary ? 'currentColor' : 'var(--surface, #fff)'),
      }),
    ],
  });
}

/** Pair by pair: its name, a line for each model, and one for those that leave it as it is. */
function linesFrom(findings: Findings, rows: readonly SensitivityRow[], narrow: boolean) {
  const short = positionHeads(findings);
  const names = narrow ? short : positionWords(findings);
  const show = (value: number) => differenceShown(findings, value);
  let at = 0;
  const place = (px: number) => (at += px) - px / 2;
  const lines = rows.flatMap((row): Line[] => [
    { y: place(HEAD_PX), words: `${row.factor}: ${row.label}`, head: true, interval: null },
    ...row.cells.map((cell) => ({
      y: place(LINE_PX),
      words: names[cell.model],
      head: false,
      interval: {
        estimate: show(cell.estimate),
        lower: show(cell.lower),
        upper: show(cell.upper),
        primary: cell.model === findings.primary.model,
      },
    })),
    ...(row.unable.length > 0
      ? [{ y: place(LINE_PX), words: unableWords(row.unable, short), head: false, interval: null }]
      : []),
  ]);
  return { lines, height: at };
}

const unableWords = (
  models: readonly PositionModel[],
  names: Readonly<Record<PositionModel, string>>,
): string =>
  models.length > 2
    ? `${models.length} others: ${AS_WITHOUT}`
    : `${list(models.map((model) => inSentence(names[model])))}: ${AS_WITHOUT}`;
