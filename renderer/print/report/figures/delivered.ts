import * as Plot from '@observablehq/plot';
import { deliveredIn, type DeliveredSeries } from '../../../derive';
import { daysBetween } from '../../../engine/calendar';
import { treatmentColours } from '../../../ui/colour/palette';
import { figure as sayFigure, sayDay, type UnitSystem } from '../../../words';
import { DASHES, drawFigure, type Figure, type FigureSize } from './draw';
import { keyOf } from './key';

const LEFT = 52;

/** One measure of several units over the days, a line a unit. */
export function deliveredFigure(
  series: readonly DeliveredSeries[],
  name: string,
  size: FigureSize,
  lengths: UnitSystem,
): Figure | null {
  const [first] = series;
  // One day makes no curve; the table has it.
  if (!first || series.every(({ figures }) => figures.length < 2)) return null;
  const { name: measure, head, shown } = deliveredIn(first.measure, lengths);
  const lines = series.map((one) => one.unit.name);
  const key = keyOf(lines, size.width - LEFT);
  const begun = series.flatMap((one) => one.figures.map(({ date }) => date)).sort()[0] ?? '';
  const points = series.flatMap((one) =>
    one.figures.map(({ date, value }) => ({
      day: daysBetween(begun, date),
      value: shown(value),
      line: one.unit.name,
    })),
  );
  return drawFigure(
    `delivered-${name.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`,
    `${measure} as delivered, by unit.`,
    size,
    {
      height: key.height + 190,
      marginLeft: LEFT,
      marginRight: 16,
      marginTop: key.height + 8,
      marginBottom: 40,
      x: { label: `days since ${sayDay(begun)}`, labelAnchor: 'center', ticks: 6 },
      y: {
        label: head,
        labelAnchor: 'center' as const,
        grid: true,
        ticks: 5,
        nice: true,
        tickFormat: (value: number) => sayFigure(value),
      },
      color: { domain: lines, range: lines.map((_, i) => look(treatmentColours, i)) },
      marks: [
        ...key.entries.flatMap((entry) => {
          const place = { frameAnchor: 'top-left' as const, dy: entry.y - key.height - 8 };
          return [
            Plot.dot([entry], { ...place, fill: () => entry.text, r: 3.5, dx: entry.x + 5 }),
            Plot.text([entry], { ...place, text: 'text', dx: entry.x + 16, lineAnchor: 'middle' }),
          ];
        }),
        ...lines.map((line, i) =>
          Plot.line(
            points.filter((point) => point.line === line),
            { x: 'day', y: 'value', stroke: 'line', strokeDasharray: look(DASHES, i) },
          ),
        ),
        Plot.dot(points, { x: 'day', y: 'value', fill: 'line', r: 2.5 }),
      ],
    },
  );
}

function look<Kind>(all: readonly [Kind, ...Kind[]], i: number): Kind {
  return all[i % all.length] ?? all[0];
}
