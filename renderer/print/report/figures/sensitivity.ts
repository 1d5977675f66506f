import * as Plot from '@observablehq/plot';
import {
  differenceShown,
  differenceUnit,
  isRatio,
  noDifference,
  positionWords,
  sensitivityOf,
  type Findings,
  type SensitivityRow,
} from '../../../engine/findings';
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

/** Each difference with its interval under every way of allowing for position. */
export function sensitivityFigure(findings: Findings, size: FigureSize): Figure | null {
  const rows = drawnRows(findings);
  if (rows.length === 0) return null;
  const { name } = findings.response;
  const names = positionWords(findings);
  const ratio = isRatio(findings.scale);
  const primary = findings.primary.model;
  const cells = rows.flatMap((row) =>
    row.cells.map((cell) => ({
      ...cell,
      estimate: differenceShown(findings, cell.estimate),
      lower: differenceShown(findings, cell.lower),
      upper: differenceShown(findings, cell.upper),
      panel: `${row.factor}: ${row.label}`,
      words: names[cell.model],
      primary: cell.model === primary,
    })),
  );
  const left = rows.flatMap((row) =>
    row.unable.map((model) => ({ panel: `${row.factor}: ${row.label}`, words: names[model] })),
  );
  const models = findings.positions.map((p) => names[p.model]);
  const panels = rows.map((row) => `${row.factor}: ${row.label}`);
  const label =
    `${ratio ? 'Ratios' : 'Differences'} in ${name} with their intervals under ${models.length} ways of allowing for ` +
    'position; filled: the model that answers.';
  return drawFigure('position', label, size, {
    height: 34 + panels.length * (models.length * 15 + 24) + 40,
    marginLeft: Math.min(270, size.width * 0.44),
    marginRight: 12,
    marginTop: 24,
    marginBottom: 40,
    x: {
      label: ratio
        ? 'ratio'
        : ['difference', differenceUnit(findings)].filter((part) => part !== '').join(', '),
      grid: true,
      labelAnchor: 'center',
      ...(ratio ? { type: 'log' as const, ticks: 5, tickFormat: '~g' } : {}),
    },
    y: { label: null, domain: models, type: 'band', padding: 0.1 },
    fy: { label: null, domain: panels, axis: null, padding: 0.22 },
    marks: [
      Plot.ruleX([noDifference(findings)], { stroke: 'currentColor' }),
      Plot.axisY({ label: null, tickSize: 0, fontSize: 11 }),
      Plot.text(panels, {
        fy: (d: string) => d,
        text: (d: string) => d,
        frameAnchor: 'top-left',
        dx: -Math.min(270, size.width * 0.44) + 4,
        dy: -15,
        fontWeight: 700,
      }),
      Plot.text(left, {
        ...{ fy: 'panel', y: 'words', text: () => AS_WITHOUT, frameAnchor: 'left', dx: 6 },
      }),
      Plot.ruleY(cells, {
        fy: 'panel',
        y: 'words',
        x1: 'lower',
        x2: 'upper',
        stroke: 'currentColor',
        strokeWidth: (d: (typeof cells)[number]) => (d.primary ? 2.4 : 1.1),
      }),
      Plot.dot(cells, {
        fy: 'panel',
        y: 'words',
        x: 'estimate',
        r: 4,
        stroke: 'currentColor',
        fill: (d: (typeof cells)[number]) => (d.primary ? 'currentColor' : 'var(--surface, #fff)'),
      }),
    ],
  });
}
