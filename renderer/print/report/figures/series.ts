import * as Plot from '@observablehq/plot';
import type { Series } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/colour/palette';
import { figures } from '../../../words';
import { DASHES, drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { keyOf } from './key';

/** Panels stand beside each other from so wide a figure on, under each other below that. */
const BESIDE_PX = 560;
const MOST_BESIDE = 4;
const LEFT = 52;

interface Point {
  /** Day, moved a little so that intervals of one date stand beside each other. */
  x: number;
  mean: number;
  lower: number;
  upper: number;
  panel: string;
  line: string;
}

interface PotPoint {
  potId: string;
  title: string;
  x: number;
  value: number;
  panel: string;
  line: string;
}

/** More dots are drawn without links: each would be a part of the page of its own. */
const MOST_LINKED = 2000;

/** Growth curves of the treatments with intervals, the pots behind them; a panel a level of the first of two factors. */
export function seriesFigure(series: Series, size: FigureSize): Figure {
  const { points, pots, lines, panels, panelFactor } = pointsOf(series);
  const split = panelFactor !== null;
  const beside = split && size.width >= BESIDE_PX && panels.length <= MOST_BESIDE;
  const facet = beside ? { fx: 'panel' } : split ? { fy: 'panel' } : {};
  const { name, unit } = series.measurement;
  const key = keyOf(lines, size.width - LEFT);
  const top = key.height + (split ? 28 : 8);
  const high = split ? 170 : 220;
  const [first] = panels;
  // In the first panel, above it: there the whole width is free.
  const inFirst = beside ? { fx: () => first } : split ? { fy: () => first } : {};
  return drawFigure('growth', `${name} over time by treatment, with intervals.`, size, {
    height: top + 40 + (beside || !split ? high : panels.length * (high + 24)),
    marginLeft: LEFT,
    marginRight: 16,
    marginTop: top,
    marginBottom: 40,
    x: {
      label: 'days since the first measurement',
      labelAnchor: 'center',
      ticks: series.dates.map((d) => d.day),
    },
    y: {
      label: `${name}, ${unit}`,
      labelAnchor: 'center',
      grid: true,
      ...(series.scale === 'logarithmic'
        ? { type: 'log' as const, ticks: roundSteps(points), tickFormat: '~g' }
        : { zero: true }),
    },
    fx: { domain: panels, axis: null, padding: 0.08 },
    fy: { domain: panels, axis: null, padding: 0.2 },
    color: { domain: lines, range: lines.map((_, i) => look(treatmentColours, i)) },
    symbol: { domain: lines, range: lines.map((_, i) => look(SYMBOLS, i)) },
    marks: [
      ...(split ? [panelNames(panels, panelFactor, beside)] : []),
      ...key.entries.flatMap((entry) => keyMark(entry, entry.y - top, inFirst)),
      potDots(pots, facet, size.links === true && pots.length <= MOST_LINKED),
      ...curveMarks(points, lines, facet),
    ],
  });
}

type Facet = { fx?: string; fy?: string };

function panelNames(panels: readonly string[], factor: string, beside: boolean): Plot.Markish {
  const own = (panel: string) => panel;
  return Plot.text(panels, {
    ...(beside ? { fx: own } : { fy: own }),
    text: (panel: string) => `${factor}: ${panel}`,
    frameAnchor: 'top-left',
    dy: -14,
    fontWeight: 700,
  });
}

function keyMark(entry: { text: string; x: number }, dy: number, panel: object): Plot.Markish[] {
  const place = { ...panel, frameAnchor: 'top-left' as const, dy };
  const mark = { symbol: () => entry.text, fill: () => entry.text, r: 3.5 };
  return [
    Plot.dot([entry], { ...place, ...mark, dx: entry.x + 5 }),
    Plot.text([entry], { ...place, text: 'text', dx: entry.x + 16, lineAnchor: 'middle' }),
  ];
}

function potDots(pots: readonly PotPoint[], facet: Facet, linked: boolean): Plot.Markish {
  return Plot.dot(pots, {
    ...facet,
    x: 'x',
    y: 'value',
    r: 1.7,
    fill: 'line',
    fillOpacity: 0.35,
    ...(linked ? { title: 'title', href: ({ potId }: PotPoint) => `#pot:${potId}` } : {}),
  });
}

/** Means with their intervals, joined by a line a treatment. */
function curveMarks(
  points: readonly Point[],
  lines: readonly string[],
  facet: Facet,
): Plot.Markish[] {
  const interval = { y1: 'lower', y2: 'upper', stroke: 'line', strokeWidth: 1.4 };
  return [
    Plot.ruleX(points, { ...facet, x: 'x', ...interval }),
    ...lines.map((line, i) =>
      Plot.line(
        points.filter((point) => point.line === line),
        { ...facet, x: 'x', y: 'mean', stroke: 'line', strokeDasharray: look(DASHES, i) },
      ),
    ),
    Plot.dot(points, { ...facet, x: 'x', y: 'mean', symbol: 'line', fill: 'line', r: 3.5 }),
  ];
}

function look<Kind>(all: readonly [Kind, ...Kind[]], i: number): Kind {
  return all[i % all.length] ?? all[0];
}

function pointsOf({ curves, dates, pots, scale, measurement }: Series) {
  const [first, ...others] = Object.keys(curves[0]?.levels ?? {});
  const panelFactor = first !== undefined && others.length > 0 ? first : null;
  const named = curves.map((curve) => ({
    curve,
    panel: panelFactor === null ? '' : (curve.levels[panelFactor] ?? ''),
    line: panelFactor === null ? curve.label : others.map((f) => curve.levels[f] ?? '').join(' · '),
  }));
  const lines = [...new Set(named.map(({ line }) => line))];
  const panels = [...new Set(named.map(({ panel }) => panel))];
  const days = dates.map(({ day }) => day);
  const step = (Math.max(...days) - Math.min(...days)) * 0.014;
  const beside = (line: string) => (lines.indexOf(line) - (lines.length - 1) / 2) * step;
  const points = named.flatMap(({ curve, panel, line }) =>
    curve.points.map(({ day, mean, lower, upper }): Point => ({
      x: day + beside(line),
      mean,
      lower,
      upper,
      panel,
      line,
    })),
  );
  const placeOf = new Map(named.map(({ curve, panel, line }) => [curve.label, { panel, line }]));
  const behind = pots.flatMap(({ potId, code, day, value, label }): PotPoint[] => {
    const place = placeOf.get(label);
    // Nothing is as low as 0 on a scale of logarithms.
    if (!place || (scale === 'logarithmic' && !(value > 0))) return [];
    const title = `${code} · ${label} · ${figures(value)} ${measurement.unit}`.trimEnd();
    return [{ ...place, potId, title, value, x: day + beside(place.line) }];
  });
  return { points, pots: behind, lines, panels, panelFactor };
}

/** 1, 2 and 5 times powers of ten within the points, and one beyond them at either end. */
function roundSteps(points: readonly Point[]): number[] {
  const least = Math.min(...points.map(({ lower }) => lower));
  const most = Math.max(...points.map(({ upper }) => upper));
  const from = Math.floor(Math.log10(least));
  const powers = Array.from({ length: Math.ceil(Math.log10(most)) - from + 1 }, (_, i) => from + i);
  return powers
    .flatMap((power) => [1, 2, 5].map((step) => step * 10 ** power))
    .filter((step) => step >= least && step <= most);
}
