import * as Plot from '@observablehq/plot';
import { useMemo } from 'react';
import { deliveredTraits } from '../../../../shared-types/delivered';
import { sayDelivered, type DeliveredSeries } from '../../../derive';
import { PlotFigure } from '../../../ui';
import { figure } from '../../../words';

/** One measure of one unit over the days, with what is planned as a broken line. */
export function DeliveredCurve({ series, blinded }: { series: DeliveredSeries; blinded: boolean }) {
  const { unit, measure, figures } = series;
  const setting = blinded ? null : series.setting;
  const { name, unit: sign, decimals } = deliveredTraits[measure];
  const options = useMemo((): Plot.PlotOptions => {
    const points = figures.map(({ date, value }) => ({ day: new Date(date), value }));
    const planned = setting ? [setting.value] : [];
    const all = [...points.map(({ value }) => value), ...planned];
    // Ticks between which no figure can lie say nothing.
    const room = Math.max(10 ** (1 - decimals), (Math.max(...all) - Math.min(...all)) * 0.15);
    return {
      height: 144,
      ...{ marginLeft: 44, marginRight: 12, marginTop: 22, marginBottom: 40 },
      x: { type: 'utc', label: null, ticks: 4 },
      y: {
        label: sign ? `${name}, ${sign}` : name,
        ...{ labelArrow: 'none' as const, grid: true, ticks: 4 },
        tickFormat: (value: number) => figure(value),
        domain: [Math.min(...all) - room, Math.max(...all) + room],
      },
      marks: [
        Plot.ruleY(planned, { strokeDasharray: '4 3' }),
        Plot.line(points, { x: 'day', y: 'value', stroke: 'var(--accent)' }),
        Plot.dot(points, { x: 'day', y: 'value', r: 3, fill: 'var(--accent)' }),
      ],
    };
  }, [figures, setting, name, sign, decimals]);
  const planned = setting ? `, planned ${sayDelivered(measure, setting.value)}` : '';
  return (
    <PlotFigure
      testId={`delivered-curve-${measure}`}
      label={`${name} of ${unit.name} on ${figures.length} days${planned}`}
      options={options}
    />
  );
}
