import * as Plot from '@observablehq/plot';
import jStatModule from 'jstat';
import { inPlanOrder, type Findings, type PotCheck } from '../../../engine/findings';
import { drawFigure, type Figure, type FigureSize } from './draw';
import { fixed } from '../../../words';

const { jStat } = jStatModule;

const href = (size: FigureSize) => (size.links ? { href: (d: PotCheck) => `#pot:${d.potId}` } : {});

const named = (pots: readonly PotCheck[]) => pots.filter((pot) => pot.outlying || pot.influential);

const title = (d: PotCheck) => `${d.code}: ${fixed(d.standardised, 2)} sd`;

/** Residuals against fitted values: a fan or a bow shows a scale that does not suit. */
export function residualFigure(findings: Findings, size: FigureSize): Figure {
  const { pots } = findings.checks;
  const { name, unit } = findings.response;
  return drawFigure('residuals', `Residuals of ${name} against fitted values.`, size, {
    height: Math.min(280, size.width * 0.72),
    marginLeft: 46,
    marginBottom: 38,
    x: { label: `expected ${name}, ${unit}`, labelAnchor: 'center' },
    y: { label: 'above or below, sd', grid: true },
    marks: [
      Plot.ruleY([0]),
      Plot.dot(pots, {
        x: 'fitted',
        y: 'standardised',
        r: 3,
        stroke: 'currentColor',
        strokeOpacity: 0.75,
        title,
        ...href(size),
      }),
      Plot.text(named(pots), {
        x: 'fitted',
        y: 'standardised',
        text: 'code',
        dy: -9,
        fontSize: 11,
      }),
    ],
  });
}

/** Residuals in order against the quantiles of a normal distribution (Blom 1958: (i − 3/8)/(n + 1/4)). */
export function quantileFigure(findings: Findings, size: FigureSize): Figure {
  const sorted = [...findings.checks.pots].sort((a, b) => a.standardised - b.standardised);
  const n = sorted.length;
  const points = sorted.map((pot, i) => ({
    ...pot,
    quantile: jStat.normal.inv((i + 1 - 0.375) / (n + 0.25), 0, 1),
  }));
  const reach = points.at(-1)?.quantile ?? 1;
  return drawFigure('normal quantiles', 'Residuals against normal quantiles.', size, {
    height: Math.min(280, size.width * 0.72),
    marginLeft: 46,
    marginBottom: 38,
    x: { label: 'normal quantile', labelAnchor: 'center' },
    y: { label: 'residual, sd', grid: true },
    marks: [
      Plot.line(
        [
          [-reach, -reach],
          [reach, reach],
        ],
        { stroke: 'currentColor', strokeDasharray: '4 3' },
      ),
      Plot.dot(points, {
        x: 'quantile',
        y: 'standardised',
        r: 3,
        stroke: 'currentColor',
        strokeOpacity: 0.75,
        title,
        ...href(size),
      }),
      Plot.text(
        points.filter((p) => p.outlying || p.influential),
        {
          x: 'quantile',
          y: 'standardised',
          text: 'code',
          dx: -8,
          textAnchor: 'end',
          fontSize: 11,
        },
      ),
    ],
  });
}

/** Residuals of each treatment in a line, so that unequal spread is seen. */
export function spreadFigure(findings: Findings, size: FigureSize): Figure | null {
  const columns = findings.design.tested.map((role) => role.column);
  if (columns.length === 0) return null;
  const rowOf = new Map(findings.pots.map((pot, i) => [pot.id, i]));
  const points = findings.checks.pots.map((pot) => {
    const row = rowOf.get(pot.potId) ?? -1;
    const levels = columns.map((c) => String(findings.table.columns[c]?.[row] ?? ''));
    return { ...pot, group: levels.join(' · ') };
  });
  const levelsOf = (group: string) =>
    Object.fromEntries(columns.map((c, i) => [c, group.split(' · ')[i] ?? '']));
  const found = [...new Set(points.map((p) => p.group))];
  const groups = inPlanOrder(
    found.map((group) => ({ ...levelsOf(group), group })),
    columns,
    findings.roles,
  ).map(({ group }) => group);
  const margin = Math.min(
    230,
    size.width * 0.56,
    16 + 6.4 * Math.max(...groups.map((g) => g.length)),
  );
  return drawFigure('spread', 'Residuals by treatment.', size, {
    height: 46 + groups.length * 17,
    marginLeft: margin,
    marginTop: 6,
    marginBottom: 38,
    x: {
      label: size.width < 460 ? 'residual, sd' : 'above or below what is expected, sd',
      grid: true,
      labelAnchor: 'center',
    },
    y: { label: null, domain: groups, type: 'band' },
    marks: [
      Plot.ruleX([0]),
      Plot.axisY({ label: null, tickSize: 0, fontSize: 11 }),
      Plot.tickX(points, {
        x: 'standardised',
        y: 'group',
        stroke: 'currentColor',
        strokeOpacity: 0.7,
        title,
        ...href(size),
      }),
    ],
  });
}
