import type { Design } from '../../design';
import type { TestOrder } from '../../hypotheses';
import { mean, selectColumns } from '../../linear';
import { movingColumns, movingRows, sweep } from '../moving';
import type { MovingRows } from '../moving';
import type { KnownCovariance } from '../covariance';
import type { RandomisationPlan } from '../plan';
import { projection } from './projection';
import type { RandomisationStatistic } from '../types';
import { add, real, whole } from '../../../entry';

/**
 * The F of a term by generalised least squares with a covariance V that every layout leaves as it is:
 * what the term adds, over its df. With P = V⁻¹ − V⁻¹X₀(XᵀV⁻¹X₀)⁻X₀ᵀV⁻¹, X₀ the columns that stay,
 * every layout needs only ZᵀPZ and ZᵀPy of the columns Z that move.
 *
 * Rows that are alike hang together under V, so that units cannot add to sums one by one: the sums
 * are the labels of the units, plus 1.
 */
export function glsStatistic(
  design: Design,
  plan: RandomisationPlan,
  order: TestOrder,
  covariance: KnownCovariance,
): RandomisationStatistic {
  const n = design.y.length;
  const { x, stay, before, own: ownColumns } = movingColumns(design, plan, order);
  const scanned = [...before, ...ownColumns];
  const d = scanned.length;
  const centre = mean(design.y);
  const fixed = selectColumns(x, stay);
  const { p, py, size } = projection(
    covariance,
    fixed,
    Float64Array.from(design.y, (y) => y - centre),
  );
  const eachCell = cellsOf(plan, movingRows(design, plan, order, scanned));

  const along = new Float64Array(d * n);
  const cross = new Float64Array(d * d);
  const response = new Float64Array(d);
  const sizes = new Float64Array(d);
  return {
    size: plan.unitRows.length,
    addUnit(sums, unit, label) {
      sums[unit] = label + 1;
    },
    f(sums) {
      along.fill(0);
      cross.fill(0);
      response.fill(0);
      sizes.fill(0);
      eachCell(sums, (i, a, value) => {
        add(response, a, value * real(py, i));
        add(sizes, a, value * value * real(size, i));
        const from = i * n;
        const to = a * n;
        for (let j = 0; j < n; j++) {
          add(along, to + j, value * real(p, from + j));
        }
      });
      eachCell(sums, (i, a, value) => {
        for (let b = 0; b <= a; b++) {
          add(cross, a * d + b, value * real(along, b * n + i));
        }
      });
      const { own, ownDf } = sweep(cross, response, (a) => real(sizes, a), before.length, d);
      return ownDf === 0 ? 0 : own / ownDf;
    },
  };
}

type Visit = (row: number, column: number, value: number) => void;

/** Visits all that is not zero among the columns that move, under the labels of the units. */
function cellsOf(
  { unitRows }: RandomisationPlan,
  { places, values }: MovingRows,
): (sums: Float64Array, visit: Visit) => void {
  return (sums, visit) => {
    unitRows.forEach((rows, unit) => {
      const label = real(sums, unit) - 1;
      for (const i of rows) {
        const at = places[label]?.[i];
        const value = values[label]?.[i];
        if (!at || !value) continue;
        for (let s = 0; s < at.length; s++) visit(i, whole(at, s), real(value, s));
      }
    });
  };
}
