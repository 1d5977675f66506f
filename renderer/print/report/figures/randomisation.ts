import * as Plot from '@observablehq/plot';
import type { RandomisationFound } from '../../../engine/findings';
import { drawFigure, type Figure, type FigureSize } from './draw';

/** What chance alone gives for the statistic, and what the real layout gave; null: all were listed. */
export function randomisationFigure(found: RandomisationFound, size: FigureSize): Figure | null {
  if (found.sample.length === 0) return null;
  return drawFigure(
    'randomisation',
    `F of ${found.term} under shuffled layouts; the line is the layout as it was.`,
    size,
    {
      height: 170,
      marginLeft: 44,
      marginBottom: 38,
      x: { label: `F of ${found.term}`, labelAnchor: 'center' },
      y: { label: 'layouts', grid: true },
      marks: [
        Plot.rectY(found.sample, {
          ...Plot.binX<Plot.RectYOptions>({ y: 'count' }, { x: (d: number) => d, thresholds: 40 }),
          fill: 'currentColor',
          fillOpacity: 0.35,
        }),
        Plot.ruleY([0]),
        Plot.ruleX([found.observed], { strokeWidth: 2.2 }),
        Plot.text([found.observed], {
          x: (d: number) => d,
          text: () => 'as drawn',
          frameAnchor: 'top',
          textAnchor: 'end',
          dx: -6,
          dy: 4,
        }),
      ],
    },
  );
}
