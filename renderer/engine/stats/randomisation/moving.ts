import { designMatrix } from '../design';
import type { Design } from '../design';
import { termColumnSets } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import type { Matrix } from '../model';
import type { RandomisationPlan } from './plan';
import { Refusal } from '../../../words';
import { add, num, real } from '../../entry';

/** Columns of a design, told apart by what the tested term is adjusted for and what moves. */
export interface MovingColumns {
  /** In the coding of the test. */
  readonly x: Matrix;
  /** What the term is adjusted for and stays where it is. */
  readonly stay: readonly number[];
  /** What the term is adjusted for and moves; then the term itself; then all else. */
  readonly before: readonly number[];
  readonly own: readonly number[];
  readonly after: readonly number[];
}

/** Both codings keep the columns of a term together, so that whole terms move or stay. */
export function movingColumns(
  design: Design,
  plan: RandomisationPlan,
  order: TestOrder,
): MovingColumns {
  const columns = termColumnSets(design, order)[plan.term];
  if (!columns) throw new Refusal('redraw: the term is not in the design');
  const { x, before, own } = columns;
  const moves = design.columns.map((column) => plan.moved.some((name) => column.levels.has(name)));
  return {
    x,
    stay: before.filter((j) => !moves[j]),
    before: before.filter((j) => moves[j]),
    own,
    after: design.columns.map((_, j) => j).filter((j) => !before.includes(j) && !own.includes(j)),
  };
}

/** By label and row of the design: which of the columns are not zero there, and their values. */
export interface MovingRows {
  readonly places: readonly (readonly Int32Array[])[];
  readonly values: readonly (readonly Float64Array[])[];
}

/** The rows of design columns `scanned` under each label, in the coding of the test. */
export function movingRows(
  design: Design,
  plan: RandomisationPlan,
  order: TestOrder,
  scanned: readonly number[],
): MovingRows {
  const n = design.y.length;
  const places: Int32Array[][] = [];
  const values: Float64Array[][] = [];
  for (const label of plan.labels) {
    const factors = new Map(design.factors);
    plan.moved.forEach((name, m) => {
      const factor = design.factors.get(name);
      if (factor) factors.set(name, { ...factor, codes: new Int32Array(n).fill(num(label, m)) });
    });
    const x = designMatrix({ ...design, factors }, n, order === 'marginal' ? 'sum' : 'reference');
    const rowPlaces: Int32Array[] = [];
    const rowValues: Float64Array[] = [];
    for (let i = 0; i < n; i++) {
      const filled = scanned.flatMap((j, a) => (x.data[i * x.columns + j] === 0 ? [] : [a]));
      rowPlaces.push(Int32Array.from(filled));
      rowValues.push(
        Float64Array.from(filled, (a) => real(x.data, i * x.columns + num(scanned, a))),
      );
    }
    places.push(rowPlaces);
    values.push(rowValues);
  }
  return { places, values };
}

/** What columns explain one after the other. */
export interface Swept {
  explained: number;
  /** Of that, by the columns from `ownFrom` to before `ownTo`. */
  own: number;
  ownDf: number;
  rank: number;
}

/**
 * Sweeps the cross products of columns (lower triangle, row major) and their products with the
 * response, both overwritten. A column whose pivot is rounding beside `size` repeats earlier ones.
 */
export function sweep(
  cross: Float64Array,
  response: Float64Array,
  size: (column: number) => number,
  ownFrom: number,
  ownTo: number,
): Swept {
  const d = response.length;
  let explained = 0;
  let own = 0;
  let ownDf = 0;
  let rank = 0;
  for (let a = 0; a < d; a++) {
    const pivot = real(cross, a * d + a);
    if (pivot <= 1e-9 * size(a)) continue;
    rank++;
    const g = real(response, a);
    const part = (g * g) / pivot;
    explained += part;
    if (a >= ownFrom && a < ownTo) {
      own += part;
      ownDf++;
    }
    for (let b = a + 1; b < d; b++) {
      const factor = real(cross, b * d + a) / pivot;
      if (factor === 0) continue;
      add(response, b, -factor * g);
      for (let c = b; c < d; c++) {
        add(cross, c * d + b, -factor * real(cross, c * d + a));
      }
    }
  }
  return { explained, own, ownDf, rank };
}
