import { withColumns } from '../../linear';
import { componentFits } from '../components';
import { checkUnits, unitColumns } from '../fitMixed';
import { surfaceOf } from './surface';
import type { MixedFit, MixedInput } from '../types';
import { Refusal } from '../../../../words';

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
  return componentFits({
    x: withColumns(x, trends),
    shown: x.columns,
    components: [...random.map(unitColumns), ...curvatures],
    units: random,
    denominator,
  });
}
