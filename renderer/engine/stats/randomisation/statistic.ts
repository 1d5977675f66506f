import type { Design } from '../design';
import { termColumnSets } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import { factorise, mean, selectColumns } from '../linear';
import { byLabel, sharedRows } from './byLabel';
import { movingRows, sweep } from './moving';
import type { RandomisationPlan } from './plan';
import type { RandomisationStatistic } from './types';
import { Refusal } from '../../../words';

/** The F of `plan.term`, for a design without a position model. */
export function randomisationStatistic(
  design: Design,
  plan: RandomisationPlan,
  order: TestOrder,
): RandomisationStatistic {
  const n = design.y.length;
  const columns = termColumnSets(design, order)[plan.term];
  if (!columns) throw new Refusal('redraw: the term is not in the design');
  const moves = design.columns.map((column) => plan.moved.some((name) => column.levels.has(name)));
  // Both codings keep the columns of a term together, so that whole terms move or stay.
  const stay = columns.before.filter((j) => !moves[j]);
  const scanned = [
    ...columns.before.filter((j) => moves[j]),
    ...columns.own,
    ...design.columns
      .map((_, j) => j)
      .filter((j) => !columns.before.includes(j) && !columns.own.includes(j)),
  ];
  const ownFrom = scanned.length === 0 ? 0 : columns.before.length - stay.length;
  const ownTo = ownFrom + columns.own.length;
  const d = scanned.length;

  const basis = factorise(selectColumns(columns.x, stay));
  const q = basis.rank;
  const directions = Array.from({ length: q }, (_, k) => basis.direction(k));
  const centre = mean(design.y);
  const left = design.y.map((value) => value - centre);
  basis.applyQt(left);
  left.fill(0, 0, q);
  basis.applyQ(left);
  const total = left.reduce((sum, value) => sum + value * value, 0);

  const { places, values } = movingRows(design, plan, order, scanned);

  const alongAt = d * d;
  const responseAt = alongAt + q * d;
  const basisRows = new Float64Array(n * q);
  directions.forEach((direction, k) => {
    for (let i = 0; i < n; i++) basisRows[i * q + k] = direction[i] ?? 0;
  });
  const cross = new Float64Array(d * d);
  const response = new Float64Array(d);

  const statistic: RandomisationStatistic = {
    size: responseAt + d,
    addUnit(sums, unit, label) {
      const rows = plan.unitRows[unit];
      const labelPlaces = places[label];
      const labelValues = values[label];
      if (!rows || !labelPlaces || !labelValues) return;
      for (const i of rows) {
        const at = labelPlaces[i];
        const value = labelValues[i];
        if (!at || !value) continue;
        const r = left[i] ?? 0;
        for (let s = 0; s < at.length; s++) {
          const a = at[s] ?? 0;
          const v = value[s] ?? 0;
          sums[responseAt + a] = (sums[responseAt + a] ?? 0) + v * r;
          for (let k = 0; k < q; k++) {
            const place = alongAt + a * q + k;
            sums[place] = (sums[place] ?? 0) + v * (basisRows[i * q + k] ?? 0);
          }
          for (let t = 0; t <= s; t++) {
            const place = a * d + (at[t] ?? 0);
            sums[place] = (sums[place] ?? 0) + v * (value[t] ?? 0);
          }
        }
      }
    },
    f(sums) {
      for (let a = 0; a < d; a++) {
        response[a] = sums[responseAt + a] ?? 0;
        for (let b = 0; b <= a; b++) {
          let value = sums[a * d + b] ?? 0;
          for (let k = 0; k < q; k++) {
            value -= (sums[alongAt + a * q + k] ?? 0) * (sums[alongAt + b * q + k] ?? 0);
          }
          cross[a * d + b] = value;
        }
      }
      const found = sweep(cross, response, (a) => sums[a * d + a] ?? 0, ownFrom, ownTo);
      const { explained, own, ownDf } = found;
      const rank = q + found.rank;
      const df = n - rank;
      const error = total - explained;
      if (ownDf === 0 || df < 1) return 0;
      return error > 1e-13 * total ? own / ownDf / (error / df) : Infinity;
    },
  };
  const shared = sharedRows({ places, values });
  return shared ? byLabel(statistic, shared, plan, { left, basisRows, q, d }) : statistic;
}
