import * as Plot from '@observablehq/plot';
import type { Series } from '../../../engine/findings';
import { DASHES, drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';

/** Growth curves of the treatments with intervals; a panel a level of the first factor. */
export function seriesFigure(series: Series, size: FigureSize): Figure {
  const [panelFactor, ...others] = Object.keys(series.curves[0]?.levels ?? {});
  const split = panelFactor !== undefined && others.length > 0;
  const points = series.curves.flatMap((curve) =>
    curve.points.map((point) => ({
      ...point,
      panel: split ? (curve.levels[panelFactor] ?? '') : '',
      line: split ? others.map((f) => curve.levels[f] ?? '').join(' · ') : curve.label,
    })),
  );
  const lines = [...new Set(points.map((p) => p.line))];
  const panels = [...new Set(points.map((p) => p.panel))];
  const { name, unit } = series.measurement;
  const facet = split ? { fy: 'panel' } : {};
  const margin = Math.min(170, 16 + 6.6 * Math.max(...lines.map((l) => l.length)));
  const last = Math.max(...points.map((p) => p.day));
  const ends = spreadEnds(
    points.filter((p) => p.day === last),
    series.logarithms,
  );
  return drawFigure('growth', `${name} over time by treatment, with intervals.`, size, {
    height: panels.length * 190 + 56,
    marginLeft: 50,
    marginRight: margin,
    marginTop: split ? 26 : 14,
    marginBottom: 40,
    x: {
      label: 'days since the first measurement',
      labelAnchor: 'center',
      ticks: series.dates.map((d) => d.day),
    },
    y: {
      label: split ? null : `${name}, ${unit}`,
      grid: true,
      ...(series.logarithms ? { type: 'log' as const, ticks: 5, tickFormat: '~g' } : {}),
    },
    ...(split ? { fy: { label: null, domain: panels, axis: null, padding: 0.2 } } : {}),
    symbol: { domain: lines, range: [...SYMBOLS] },
    marks: [
      ...(split
        ? [
            Plot.text(panels, {
              fy: (d: string) => d,
              text: (d: string) => `${panelFactor}: ${d}, ${name} in ${unit}`,
              frameAnchor: 'top-left',
              dx: -40,
              dy: -16,
              fontWeight: 700,
            }),
          ]
        : []),
      Plot.ruleX(points, { ...facet, x: 'day', y1: 'lower', y2: 'upper', strokeOpacity: 0.55 }),
      ...lines.map((line, i) =>
        Plot.line(
          points.filter((p) => p.line === line),
          {
            ...facet,
            x: 'day',
            y: 'mean',
            stroke: 'currentColor',
            ...(DASHES[i % DASHES.length]
              ? { strokeDasharray: DASHES[i % DASHES.length] ?? '' }
              : {}),
          },
        ),
      ),
      Plot.dot(points, {
        ...facet,
        x: 'day',
        y: 'mean',
        symbol: 'line',
        r: 3.5,
        fill: 'currentColor',
      }),
      Plot.text(ends, {
        ...facet,
        x: 'day',
        y: 'at',
        text: 'line',
        textAnchor: 'start',
        dx: 8,
        fontSize: 11,
      }),
    ],
  });
}

/** Moves labels apart that would lie on each other: enough for a line of print. */
function spreadEnds<Point extends { panel: string; mean: number }>(
  ends: readonly Point[],
  logarithms: boolean,
): (Point & { at: number })[] {
  const scale = (v: number) => (logarithms ? Math.log(v) : v);
  const back = (v: number) => (logarithms ? Math.exp(v) : v);
  const all = ends.map((p) => scale(p.mean));
  const gap = Math.max(Math.max(...all) - Math.min(...all), Math.abs(Math.max(...all)) * 0.4) / 8;
  return [...new Set(ends.map((p) => p.panel))].flatMap((panel) => {
    const own = ends
      .filter((p) => p.panel === panel)
      .map((p) => ({ p, at: scale(p.mean) }))
      .sort((a, b) => a.at - b.at);
    own.forEach((one, i) => {
      const below = own[i - 1];
      if (below) one.at = Math.max(one.at, below.at + gap);
    });
    return own.map(({ p, at }) => ({ ...p, at: back(at) }));
  });
}
