import * as Plot from '@observablehq/plot';
import { unitWords } from '../../../../shared-types/trial/trial';
import {
  COLUMN,
  isRatio,
  saidDifference,
  saidInterval,
  type Effect,
  type Findings,
} from '../../../engine/findings';
import { figures, plural, withSign } from '../../../words';
import { drawFigure, type Figure, type FigureSize } from './draw';

/** A pot by what it has more or less than the others of its treatment. */
export interface PlaceDot {
  potId: string;
  title: string;
  /** In the unit of the measurement, or as a multiple where the model is one of ratios. */
  beside: number;
  /** At the pot, µmol m⁻² s⁻¹; where a treatment sets the light, more or less than its unit's mean. */
  light: number | null;
  place: 'edge' | 'inner' | null;
}

/** Steps of the golden ratio, as for every plant. */
const GOLDEN = 0.618033988749895;

/** Every analysed pot beside the mean of its treatment; without treatments beside the mean of all. */
export function placeDots(findings: Findings): PlaceDot[] {
  const { table, pots, roles, lightUnit } = findings;
  const values = table.columns[COLUMN.response] ?? [];
  const key = (columns: readonly string[], row: number) =>
    columns.map((column) => String(table.columns[column]?.[row])).join('\n');
  const treatments = roles.map(({ column }) => column);
  const meanOf = means(values, (row) => key(treatments, row));
  const light = table.columns[COLUMN.ppfd] ?? [];
  const unitMean = lightUnit === null ? null : means(light, (row) => key([COLUMN[lightUnit]], row));
  return pots.flatMap((pot, row): PlaceDot[] => {
    const value = values[row];
    const mean = meanOf(row);
    if (typeof value !== 'number' || mean === null) return [];
    const ratio = isRatio(findings.scale);
    if (ratio && !(mean > 0)) return [];
    const beside = ratio ? value / mean : value - mean;
    const own = light[row];
    const place = table.columns[COLUMN.edge]?.[row];
    const said = ratio
      ? `${figures(beside)} times`
      : `${withSign(beside, 1)} ${findings.response.unit}`;
    return [
      {
        potId: pot.id,
        beside,
        title: `${pot.code} · ${said.trimEnd()} beside its treatment`,
        light: typeof own === 'number' ? own - (unitMean?.(row) ?? 0) : null,
        place: place === 'edge' || place === 'inner' ? place : null,
      },
    ];
  });
}

/** Means of the rows of one kind; null where none of them has a number. */
function means(
  values: readonly (string | number | null)[],
  kindOf: (row: number) => string,
): (row: number) => number | null {
  const sums = new Map<string, { sum: number; n: number }>();
  values.forEach((value, row) => {
    if (typeof value !== 'number') return;
    const own = sums.get(kindOf(row)) ?? { sum: 0, n: 0 };
    sums.set(kindOf(row), { sum: own.sum + value, n: own.n + 1 });
  });
  return (row) => {
    const own = sums.get(kindOf(row));
    return own ? own.sum / own.n : null;
  };
}

const axisOf = ({ response, scale, roles }: Findings): string => {
  const of = roles.length > 0 ? 'its treatment’s mean' : 'the mean';
  return isRatio(scale) ? `times ${of}` : `beside ${of}, ${response.unit}`;
};

const links = (size: FigureSize) =>
  size.links ? { href: (d: PlaceDot) => `#pot:${d.potId}` } : {};

const DOT = { r: 2.6, fill: 'currentColor', fillOpacity: 0.5, title: 'title' } as const;

/**
 * Light against the values within treatments, with the slope of the model and its interval; null
 * where light does not vary. Two pots are compared as if they had had the same treatment.
 */
export function lightFigure(findings: Findings, size: FigureSize): Figure | null {
  const { light, lightUnit } = findings;
  const dots = placeDots(findings).filter((dot) => dot.light !== null);
  if (!light || dots.length === 0) return null;
  const xs = dots.map((dot) => dot.light ?? 0);
  const middle = xs.reduce((sum, x) => sum + x, 0) / xs.length;
  const slopeAt = (slope: number, x: number) =>
    isRatio(findings.scale) ? Math.exp(slope * (x - middle)) : slope * (x - middle);
  const [from, to] = [Math.min(...xs), Math.max(...xs)];
  const steps = Array.from({ length: 21 }, (_, i) => from + ((to - from) * i) / 20);
  const line = steps.map((x) => ({
    x,
    y: slopeAt(light.difference, x),
    lower: slopeAt(light.lower, x),
    upper: slopeAt(light.upper, x),
  }));
  const clear = light.p < findings.alpha;
  const label = `Light against the values within treatments, ${plural(dots.length, 'pot')}: ${perTen(findings, light)}.`;
  return drawFigure('light within treatments', label, size, {
    height: Math.min(260, size.width * 0.68),
    marginLeft: 50,
    marginBottom: 38,
    x: {
      label:
        lightUnit === null
          ? 'light at the pot, µmol m⁻² s⁻¹'
          : `light, more or less than its ${unitWords[lightUnit].one}’s mean, µmol m⁻² s⁻¹`,
      labelAnchor: 'center',
    },
    y: { label: axisOf(findings), grid: true, labelAnchor: 'center' },
    marks: [
      Plot.ruleY([isRatio(findings.scale) ? 1 : 0], { strokeOpacity: 0.4 }),
      Plot.areaY(line, {
        x: 'x',
        y1: 'lower',
        y2: 'upper',
        fill: 'currentColor',
        fillOpacity: 0.12,
      }),
      Plot.dot(dots, { x: 'light', y: 'beside', ...DOT, ...links(size) }),
      Plot.line(line, {
        x: 'x',
        y: 'y',
        stroke: 'currentColor',
        strokeWidth: 2,
        ...(clear ? {} : { strokeDasharray: '5 4' }),
      }),
    ],
  });
}

/** What ten units of light go with, with its interval. */
export function perTen(findings: Findings, light: Effect): string {
  const [lower, upper] = [light.lower * 10, light.upper * 10];
  const size = saidDifference(findings, light.difference * 10, { lower, upper });
  return `${size} per 10 µmol m⁻² s⁻¹ (${saidInterval(findings, lower, upper)})`;
}

/** Pots at the edge of their tray beside those inside, within treatments; null where all are alike. */
export function edgeFigure(findings: Findings, size: FigureSize): Figure | null {
  const { edge } = findings;
  const dots = placeDots(findings).filter((dot) => dot.place !== null);
  if (!edge || dots.length === 0) return null;
  const counts = { edge: 0, inner: 0 };
  for (const { place } of dots) if (place) counts[place]++;
  const ratio = isRatio(findings.scale);
  // The adjusted means, set about the same middle as the pots.
  const share = counts.edge / dots.length;
  const middle = ratio
    ? edge.edgeMean ** share * edge.innerMean ** (1 - share)
    : edge.edgeMean * share + edge.innerMean * (1 - share);
  const beside = (value: number) => (ratio ? value / middle : value - middle);
  const means = [
    { at: 0, mean: beside(edge.edgeMean), ends: edge.edgeInterval.map(beside) },
    { at: 1, mean: beside(edge.innerMean), ends: edge.innerInterval.map(beside) },
  ].filter(({ ends }) => ends.every(Number.isFinite));
  const names = [`edge (${counts.edge})`, `inside (${counts.inner})`];
  const label = `Pots at the edge beside those inside, within treatments: ${saidDifference(findings, edge.difference, edge)} (${saidInterval(findings, edge.lower, edge.upper)}).`;
  const line = { stroke: 'currentColor', strokeWidth: 2.4 };
  return drawFigure('edge against inside', label, size, {
    height: Math.min(260, size.width * 0.68),
    marginLeft: 50,
    marginBottom: 38,
    x: {
      label: 'place in the tray (pots)',
      labelAnchor: 'center',
      type: 'linear',
      domain: [-0.5, 1.5],
      ticks: [0, 1],
      tickSize: 0,
      tickFormat: (i: number) => names[i] ?? '',
    },
    y: { label: axisOf(findings), grid: true, labelAnchor: 'center' },
    marks: [
      Plot.ruleY([ratio ? 1 : 0], { strokeOpacity: 0.4 }),
      Plot.dot(dots, {
        x: (d: PlaceDot, i: number) =>
          (d.place === 'edge' ? 0 : 1) + ((((i + 1) * GOLDEN) % 1) - 0.5) * 0.6,
        y: 'beside',
        ...DOT,
        ...links(size),
      }),
      Plot.ruleX(means, { x: 'at', y1: (d) => d.ends[0], y2: (d) => d.ends[1], ...line }),
      Plot.ruleY(means, { x1: (d) => d.at - 0.3, x2: (d) => d.at + 0.3, y: 'mean', ...line }),
    ],
  });
}
