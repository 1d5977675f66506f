import * as Plot from '@observablehq/plot';
import { useMemo } from 'react';
import type { ReadingRow } from '../../../derive';
import { PlotFigure } from '../../../ui';

/** Measured against estimated and against calibrated PPFD; on the line the two are equal. */
export function ReadingsFigure({ rows }: { rows: readonly ReadingRow[] }) {
  const options = useMemo((): Plot.PlotOptions | null => {
    const points = rows.flatMap(({ checked }) => {
      if (!checked || checked.unusable !== null) return [];
      const { measuredUmol: measured, estimatedUmol, calibratedUmol } = checked;
      const as = checked.outlier ? 'left out' : 'calibrated';
      return [
        { measured, predicted: estimatedUmol, as: 'estimated' },
        ...(calibratedUmol === null ? [] : [{ measured, predicted: calibratedUmol, as }]),
      ];
    });
    if (points.length === 0) return null;
    const highest = Math.max(...points.map((p) => Math.max(p.measured, p.predicted)));
    return {
      height: 230,
      marginLeft: 42,
      marginBottom: 36,
      x: {
        label: 'estimated or calibrated, µmol m⁻² s⁻¹',
        labelArrow: 'none',
        domain: [0, highest * 1.05],
      },
      y: { label: 'measured', labelArrow: 'none', domain: [0, highest * 1.05], grid: true },
      symbol: {
        legend: true,
        domain: ['estimated', 'calibrated', 'left out'],
        range: ['circle', 'square', 'times'],
      },
      marks: [
        Plot.line(
          [
            [0, 0],
            [highest * 1.05, highest * 1.05],
          ],
          { strokeDasharray: '4 3' },
        ),
        Plot.dot(points, {
          x: 'predicted',
          y: 'measured',
          symbol: 'as',
          r: 3.5,
          stroke: (point: { as: string }) =>
            point.as === 'estimated' ? 'currentColor' : 'var(--accent)',
        }),
      ],
    };
  }, [rows]);
  if (!options) return null;
  return (
    <PlotFigure
      testId="readings-figure"
      label="Measured PPFD against the estimate and against the calibrated figure"
      options={options}
    />
  );
}
