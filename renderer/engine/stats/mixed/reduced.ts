import { dot, denseColumn, sparseDot, type SparseColumn } from '../linear';
import {
  alikeBlocks,
  connected,
  paysApart,
  spansOf,
  type ColumnBlock,
  type Factors,
  type RandomColumns,
} from './columnBlocks';
import { dotRange, selfProduct } from './linalg';
import { localBasis, withoutSpan, type LocalBasis } from './localBasis';
import type { OrthogonalDesign } from './orthogonal';
import type { Matrix } from '../model';
import { Refusal } from '../../../words';
import { entry, real, whole } from '../../entry';

/**
 * All that REML needs of the data y = Xβ + Σ Z_k u_k + e, u_k ~ N(0, σ²γ_k I), e ~ N(0, σ²I).
 * With Q an orthonormal basis of X and K one of its complement: m = ZᵀKKᵀZ, `b` = ZᵀKKᵀy,
 * `yy` = yᵀKKᵀy, `t` = QᵀZ, `qy` = Qᵀy. The dimension is that of the random effects, whatever the
 * number of pots.
 *
 * m is held as B − TTᵀ, B block diagonal. Where units fall apart into groups, as rows and columns of
 * one tray do, what X has within single groups is taken out of Z there, B = ZᵀZ and T = ZᵀQ of the rest
 * of X, so that work grows with the number of groups; else B is m.
 */
export interface Reduced {
  readonly design: OrthogonalDesign;
  /** n − rank(X). */
  readonly free: number;
  /** All random columns together. */
  readonly q: number;
  /** First column and number of columns of each component. */
  readonly parts: readonly { name: string; start: number; count: number }[];
  readonly blocks: readonly ColumnBlock[];
  /** Columns of T. */
  readonly low: number;
  /** Diagonal of m. */
  readonly left: Float64Array;
  readonly b: Float64Array;
  readonly yy: number;
  readonly t: Float64Array;
  readonly qy: Float64Array;
  /** ΣZ_k², per component, to see what is left of it once X is out. */
  readonly size: Float64Array;
  /** At ratios that the search looks at whatever the response is. */
  readonly known: Map<string, Factors>;
}

/** What of `Reduced` rests on the layout alone. */
export interface ReducedLayout extends Omit<Reduced, 'b' | 'yy' | 'qy'> {
  /** ZᵀKKᵀy of what X leaves of a response, Kᵀy. */
  readonly along: (rest: Float64Array) => Float64Array;
}

/** Condenses the layout; throws where nothing is left to estimate a variance from. */
export function reduceLayout(
  x: Matrix,
  design: OrthogonalDesign,
  components: readonly RandomColumns[],
): ReducedLayout {
  const { n, rank } = design;
  const free = n - rank;
  if (free < 1) {
    throw new Refusal(
      `mixed model: ${n} rows and ${rank} coefficients leave nothing to estimate a variance ` +
        'from; expected more rows than coefficients',
    );
  }
  const columns = components.flatMap((component) => component.columns);
  const q = columns.length;
  const size = Float64Array.from(components, (component) =>
    component.columns.reduce((sum, { values }) => sum + dot(values, values), 0),
  );
  let at = 0;
  const parts = components.map(({ name, columns: { length: count } }) => {
    const start = at;
    at += count;
    return { name, start, count };
  });
  const groups = connected(components, n);
  const rows = groups.map((own) => rowsOfGroup(columns, n, own));
  const basis = localBasis(x, design, rows);
  const pays = paysApart(
    groups.map(({ length }) => length),
    basis.across.length,
  );
  const condensed = pays
    ? keptApart(design, basis, columns, groups, rows)
    : takenTogether(design, columns);
  const { blocks, low, t, along } = condensed;
  const left = new Float64Array(q);
  const spanned = blocks.map((block) => {
    const own = block.columns.length;
    block.columns.forEach((j, i) => {
      const taken = dotRange(block.low, i * low, block.low, i * low, low);
      left[j] = real(block.gram, i * own + i) - taken;
    });
    return { ...block, spans: spansOf(block.columns, parts) };
  });
  const like = alikeBlocks(spanned);
  const alike = spanned.map((block, k) => ({ ...block, like: like[k] ?? k }));
  return { design, free, q, parts, blocks: alike, low, left, t, size, along, known: new Map() };
}

interface Condensed {
  /** Columns of T. */
  readonly low: number;
  readonly blocks: readonly Omit<ColumnBlock, 'spans' | 'like'>[];
  readonly t: Float64Array;
  readonly along: ReducedLayout['along'];
}

/** Rows in which some of the columns are not zero, in order. */
function rowsOfGroup(columns: readonly SparseColumn[], n: number, own: Int32Array): Int32Array {
  const present = new Uint8Array(n);
  for (const j of own) {
    const { rows, values } = entry(columns, j);
    for (let k = 0; k < rows.length; k++) if (values[k] !== 0) present[whole(rows, k)] = 1;
  }
  const found: number[] = [];
  for (let i = 0; i < n; i++) if (present[i] === 1) found.push(i);
  return Int32Array.from(found);
}

/** B = ZᵀZ by groups of columns, T = ZᵀQ, both of what X leaves within groups. */
function keptApart(
  design: OrthogonalDesign,
  { inside, across }: LocalBasis,
  columns: readonly SparseColumn[],
  groups: readonly Int32Array[],
  rows: readonly Int32Array[],
): Condensed {
  const { n, rank } = design;
  const q = columns.length;
  // Where nothing is within groups, what reaches across is all that X spans.
  const isAll = inside.every((own) => own.length === 0);
  const basis = isAll ? across : Array.from({ length: rank }, (_, k) => design.direction(k));
  const t = new Float64Array(rank * q);
  const low = across.length;
  columns.forEach((column, j) => {
    basis.forEach((direction, k) => (t[k * q + j] = sparseDot(column, direction, 0)));
  });
  const placeOf = new Int32Array(n);
  const local = groups.map((group, g) => {
    const own = entry(rows, g);
    own.forEach((row, place) => (placeOf[row] = place));
    const left = leftWithin(columns, group, own, placeOf, entry(inside, g));
    const over = across.map((column) => Float64Array.from(own, (row) => real(column, row)));
    const lean = new Float64Array(group.length * low);
    group.forEach((j, i) => {
      over.forEach((column, k) => {
        lean[i * low + k] = isAll
          ? real(t, k * q + j)
          : dotRange(left, i * own.length, column, 0, own.length);
      });
    });
    return { left, lean };
  });
  const blocks = groups.map((group, g) => {
    const { left, lean } = entry(local, g);
    const gram = selfProduct(left, group.length, entry(rows, g).length);
    return { columns: group, gram, low: lean };
  });
  const along = (rest: Float64Array): Float64Array => {
    const back = new Float64Array(n);
    back.set(rest, rank);
    design.turnBack(back, 0);
    const b = new Float64Array(q);
    groups.forEach((group, g) => {
      const own = entry(rows, g);
      const { left } = entry(local, g);
      const values = Float64Array.from(own, (row) => real(back, row));
      group.forEach((j, i) => (b[j] = dotRange(left, i * own.length, values, 0, own.length)));
    });
    return b;
  };
  return { low, blocks, t, along };
}

/** The columns of a group over its rows, one after another, without what X has within them. */
function leftWithin(
  columns: readonly SparseColumn[],
  group: Int32Array,
  rows: Int32Array,
  placeOf: Int32Array,
  inside: readonly Float64Array[],
): Float64Array {
  const size = rows.length;
  const left = new Float64Array(group.length * size);
  const all = Int32Array.from(rows.keys());
  group.forEach((j, i) => {
    const column = entry(columns, j);
    for (let k = 0; k < column.rows.length; k++) {
      const value = real(column.values, k);
      // A row of zeros only is no row of the group.
      if (value !== 0) left[i * size + whole(placeOf, whole(column.rows, k))] = value;
    }
    withoutSpan(left, i * size, all, inside);
  });
  return left;
}

/** B = m, all columns one block; no T. */
function takenTogether(design: OrthogonalDesign, z: readonly SparseColumn[]): Condensed {
  const { n, rank } = design;
  const free = n - rank;
  const q = z.length;
  const t = new Float64Array(rank * q);
  const inner = new Float64Array(q * free);
  z.forEach((column, j) => {
    const turned = denseColumn(column, n);
    design.turn(turned, 0);
    for (let i = 0; i < rank; i++) t[i * q + j] = real(turned, i);
    inner.set(turned.subarray(rank), j * free);
  });
  const columns = Int32Array.from({ length: q }, (_, j) => j);
  const along = (rest: Float64Array): Float64Array =>
    Float64Array.from({ length: q }, (_, j) => dotRange(inner, j * free, rest, 0, free));
  const block = { columns, gram: selfProduct(inner, q, free), low: new Float64Array(0) };
  return { low: 0, blocks: q === 0 ? [] : [block], t, along };
}

/** Adds a response; throws where the fixed effects leave nothing of it. */
export function reduceResponse(layout: ReducedLayout, y: Float64Array): Reduced {
  const { design, free, along } = layout;
  const { n, rank } = design;
  const turnedY = y.slice();
  design.turn(turnedY, 0);
  const rest = turnedY.subarray(rank);
  const yy = dotRange(rest, 0, rest, 0, free);
  refuseExactFit(yy, dotRange(y, 0, y, 0, n));
  return { ...layout, b: along(rest), yy, qy: turnedY.slice(0, rank) };
}

/** Throws where the fixed effects leave nothing of a response: sums of squares left and in all. */
export function refuseExactFit(left: number, all: number): void {
  if (left > 1e-20 * all) return;
  throw new Refusal(
    'mixed model: the fixed effects fit every row exactly; expected a response that varies ' +
      'beyond them',
  );
}
