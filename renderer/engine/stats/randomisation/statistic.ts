import type { Design } from '../design';
import type { TestOrder } from '../hypotheses';
import { factorise, mean, selectColumns } from '../linear';
import type { Qr } from '../linear';
import { byLabel, sharedRows } from './byLabel';
import { movingColumns, movingRows, sweep } from './moving';
import type { MovingRows } from './moving';
import type { RandomisationPlan } from './plan';
import type { RandomisationStatistic, Staying } from './types';
import { add, real, whole } from '../../entry';

/** The F of `plan.term`, for a design without a position model. */
export function randomisationStatistic(
  design: Design,
  plan: RandomisationPlan,
  order: TestOrder,
): RandomisationStatistic {
  const { x, stay, before, own: ownColumns, after } = movingColumns(design, plan, order);
  const scanned = [...before, ...ownColumns, ...after];
  const ownFrom = before.length;
  const ownTo = ownFrom + ownColumns.length;
  const n = design.y.length;
  const d = scanned.length;
  const basis = factorise(selectColumns(x, stay));
  const q = basis.rank;
  const left = leftOf(design.y, basis);
  const total = left.reduce((sum, value) => sum + value * value, 0);
  const staying: Staying = { left, basisRows: rowsOf(basis), q, d };
  const moving = movingRows(design, plan, order, scanned);

  const alongAt = d * d;
  const responseAt = alongAt + q * d;
  const cross = new Float64Array(d * d);
  const response = new Float64Array(d);
  const statistic: RandomisationStatistic = {
    size: responseAt + d,
    addUnit: adder(plan, moving, staying),
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
  const shared = sharedRows(moving);
  return shared ? byLabel(statistic, shared, plan, staying) : statistic;
}

/** What the mean and the columns of a basis leave of a response. */
function leftOf(y: Float64Array, basis: Qr): Float64Array {
  const centre = mean(y);
  const left = y.map((value) => value - centre);
  basis.applyQt(left);
  left.fill(0, 0, basis.rank);
  basis.applyQ(left);
  return left;
}

/** The basis by rows of the design. */
function rowsOf(basis: Qr): Float64Array {
  const { rows: n, rank: q } = basis;
  const out = new Float64Array(n * q);
  for (let k = 0; k < q; k++) {
    const direction = basis.direction(k);
    for (let i = 0; i < n; i++) out[i * q + k] = real(direction, i);
  }
  return out;
}

/**
 * Adds to the sums the cross products of what moves on a unit's rows, its products with the basis
 * of what stays, and with the response.
 */
function adder(
  { unitRows }: RandomisationPlan,
  { places, values }: MovingRows,
  { left, basisRows, q, d }: Staying,
): RandomisationStatistic['addUnit'] {
  const alongAt = d * d;
  const responseAt = alongAt + q * d;
  return (sums, unit, label) => {
    const rows = unitRows[unit];
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
  };
}
