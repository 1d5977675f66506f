import * as Plot from '@observablehq/plot';
import { inPlanOrder, meanShown, type Findings } from '../../../engine/findings';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { list } from '../../../words';

interface Point {
  level: string;
  by: string;
  mean: number;
  lower: number;
  upper: number;
}

/** A limit beyond all numbers is drawn at the mean: the interval is open there. */
function bounded(shown: { mean: number; lower: number; upper: number }) {
  const end = (value: number) => (Number.isFinite(value) ? value : shown.mean);
  return { mean: shown.mean, lower: end(shown.lower), upper: end(shown.upper) };
}

/** Adjusted means with intervals: of one factor, or of one at each level of another. */
export function meansFigure(
  findings: Findings,
  of: readonly string[],
  size: FigureSize,
): Figure | null {
  const rows = findings.primary.result.means.find(
    (m) => m.of.length === of.length && m.of.every((name) => of.includes(name)),
  )?.rows;
  const [first, second] = of;
  if (!rows || rows.length === 0 || first === undefined || of.length > 2) return null;
  const points = inPlanOrder(rows, of, findings.roles).map((row): Point => ({
    level: String(row[first]),
    by: second === undefined ? '' : String(row[second]),
    ...bounded(meanShown(row)),
  }));
  const levels = [...new Set(points.map((p) => p.level))];
  const panels = [...new Set(points.map((p) => p.by))];
  const { name, unit } = findings.response;
  const label = `Adjusted means of ${name} with intervals, by ${list(of)}.`;
  const margin = Math.min(200, 20 + 7 * Math.max(...levels.map((l) => l.length)));
  return drawFigure(`means ${of.join(' by ')}`, label, size, {
    height: 50 + panels.length * (levels.length * 18 + (second ? 26 : 8)),
    marginLeft: margin,
    marginTop: second ? 22 : 8,
    marginBottom: 38,
    x: { label: `${name}, ${unit}`, grid: true, labelAnchor: 'center' },
    y: { label: null, domain: levels, type: 'band' },
    fy: { label: null, domain: panels, axis: null, padding: 0.25 },
    symbol: { domain: levels, range: [...SYMBOLS] },
    marks: [
      Plot.axisY({ label: null, tickSize: 0 }),
      ...(second
        ? [
            Plot.text(panels, {
              fy: (d: string) => d,
              text: (d: string) => d,
              frameAnchor: 'top-left',
              dx: -margin + 4,
              dy: -14,
              fontWeight: 700,
            }),
          ]
        : []),
      Plot.ruleY(points, {
        ...(second ? { fy: 'by' } : {}),
        y: 'level',
        x1: 'lower',
        x2: 'upper',
        stroke: 'currentColor',
        strokeWidth: 1.4,
      }),
      Plot.dot(points, {
        ...(second ? { fy: 'by' } : {}),
        y: 'level',
        x: 'mean',
        symbol: 'level',
        r: 4.5,
        fill: 'currentColor',
      }),
    ],
  });
}
