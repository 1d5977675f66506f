import { dot, denseColumn, spaceOf, withColumns } from '../../linear';
import { apartFrom, localColumns, type Apart } from '../complement';
import { componentFits, type ComponentLayout } from '../components';
import { checkUnits, unitColumns } from '../fitMixed';
import { refuseExactFit } from '../reduced';
import { rowsTogether } from '../rowsTogether';
import { surfaceOf } from './surface';
import type { MixedFit, MixedInput } from '../types';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

export interface SmoothInput extends MixedInput {
  /** Position of each pot along rows and columns. */
  row: Float64Array;
  column: Float64Array;
  /** A surface of its own for each group (tray, shelf); curvature variances are common. */
  group: Int32Array;
}

/**
 * Mixed model with a smooth surface over the positions of each group, by REML; the surface's
 * parameterisation and sources are in `surface.ts`. The trends come after the columns of X and
 * are not shown, so X keeps its coefficients and `estimate` speaks of the mean position of each
 * group. `variance` has the units, then the curvatures that the positions allow, then the
 * residual. Containment df take no notice of the curvatures.
 */
export function fitSmooth(input: SmoothInput): MixedFit {
  return smoothFits(input)(input.y);
}

/** `fitSmooth` for one response after another to the same layout. */
export function smoothFits(input: Omit<SmoothInput, 'y'>): (y: Float64Array) => MixedFit {
  const { x, row, column, group, random, denominator } = input;
  checkUnits(random, x.rows);
  for (const [name, values] of Object.entries({ row, column, group })) {
    if (values.length !== x.rows) {
      throw new Refusal(`smooth surface: ${values.length} values of ${name}; expected ${x.rows}`);
    }
    const bad = values.findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) {
      throw new Refusal(
        `smooth surface: ${name} in row ${bad + 1} is ${values[bad]}; expected a number`,
      );
    }
  }
  const { trends, curvatures } = surfaceOf(row, column, group);
  const components = [...random.map(unitColumns), ...curvatures];
  const layout = { components, units: random, denominator };
  const groups = localColumns(rowsTogether([group], x.rows), trends);
  const apart = denominator === 'containment' ? null : apartFrom(groups, x, spaceOf(x).rank);
  if (apart) return fitsWithoutTrends(layout, apart);
  const dense = trends.map((trend) => denseColumn(trend, x.rows));
  return componentFits({ ...layout, x: withColumns(x, dense), shown: x.columns });
}

/** The fits of what the trends leave, with all that they add to the likelihood and the fitted values. */
function fitsWithoutTrends(
  layout: Pick<ComponentLayout, 'components' | 'units' | 'denominator'>,
  { complement, left }: Apart,
): (y: Float64Array) => MixedFit {
  const { rank, logGram } = complement;
  const components = layout.components.map(({ name, columns }) => ({
    name,
    columns: columns.map(complement.outSparse),
  }));
  const fits = componentFits({ ...layout, components, x: left, shown: left.columns });
  return (y) => {
    const own = complement.out(y);
    refuseExactFit(dot(own, own), dot(y, y));
    const fit = fits(own);
    const residuals = complement.back(own.map((value, i) => value - real(fit.fitted, i)));
    const logLik = fit.logLik - logGram / 2;
    return {
      ...fit,
      logLik,
      aic: fit.aic + logGram + 2 * rank,
      fitted: y.map((value, i) => value - real(residuals, i)),
    };
  };
}
