import type { Design } from '../design';
import { termColumnSets } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import { factorise, mean, selectColumns } from '../linear';
import { byLabel, sharedRows } from './byLabel';
import { movingRows, sweep } from './moving';
import type { RandomisationPlan } from './plan';
import type { RandomisationStatistic } from './types';
import { Refusal } from '../../../words';
import { add, real, whole } from '../../entry';

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
    for (let i = 0; i < n; i++) basisRows[i * q + k] = real(direction, i);
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
        const r = real(left, i);
        for (let s = 0; s < at.length; s++) {
          const a = whole(at, s);
          const v = real(value, s);
          add(sums, responseAt + a, v * r);
          for (let k = 0; k < q; k++) {
            const place = alongAt + a * q + k;
            add(sums, place, v * real(basisRows, i * q + k));
          }
          for (let t = 0; t <= s; t++) {
            const place = a * d + whole(at, t);
            add(sums, place, v * real(value, t));
          }
        }
      }
    },
    f(sums) {
      for (let a = 0; a < d; a++) {
        response[a] = real(sums, responseAt + a);
        for (let b = 0; b <= a; b++) {
          let value = real(sums, a * d + b);
          for (let k = 0; k < q; k++) {
            value -= real(sums, alongAt + a * q + k) * real(sums, alongAt + b * q + k);
          }
          cross[a * d + b] = value;
        }
      }
      const found = sweep(cross, response, (a) => real(sums, a * d + a), ownFrom, ownTo);
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
