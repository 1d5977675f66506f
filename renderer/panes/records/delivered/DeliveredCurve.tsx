import * as Plot from '@observablehq/plot';
import { useMemo } from 'react';
import { deliveredIn, type DeliveredSeries } from '../../../derive';
import { PlotFigure } from '../../../ui';
import { figure, type UnitSystem } from '../../../words';

/** One measure of one unit over the days, with what is planned as a broken line. */
export function DeliveredCurve(props: {
  series: DeliveredSeries;
  blinded: boolean;
  lengths: UnitSystem;
}) {
  const { series, blinded, lengths } = props;
  const { unit, measure, figures } = series;
  const setting = blinded ? null : series.setting;
  const { name, say } = deliveredIn(measure, lengths);
  const options = useMemo((): Plot.PlotOptions => {
    const { shown, head, decimals } = deliveredIn(measure, lengths);
    const points = figures.map(({ date, value }) => ({ day: new Date(date), value: shown(value) }));
    const planned = setting ? [shown(setting.value)] : [];
    const all = [...points.map(({ value }) => value), ...planned];
    // Ticks between which no figure can lie say nothing.
    const room = Math.max(10 ** (1 - decimals), (Math.max(...all) - Math.min(...all)) * 0.15);
    return {
      height: 144,
      marginLeft: 44,
      marginRight: 12,
      marginTop: 22,
      marginBottom: 40,
      x: { type: 'utc', label: null, ticks: 4 },
      y: {
        label: head,
        labelArrow: 'none' as const,
        grid: true,
        ticks: 4,
        tickFormat: (value: number) => figure(value),
        domain: [Math.min(...all) - room, Math.max(...all) + room],
      },
      marks: [
        Plot.ruleY(planned, { strokeDasharray: '4 3' }),
        Plot.line(points, { x: 'day', y: 'value', stroke: 'var(--accent)' }),
        Plot.dot(points, { x: 'day', y: 'value', r: 3, fill: 'var(--accent)' }),
      ],
    };
  }, [figures, setting, measure, lengths]);
  const planned = setting ? `, planned ${say(setting.value)}` : '';
  return (
    <PlotFigure
      testId={`delivered-curve-${measure}`}
      label={`${name} of ${unit.name} on ${figures.length} days${planned}`}
      options={options}
    />
  );
}
