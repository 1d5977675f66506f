import {
  connected,
  grammian,
  paysApart,
  spansOf,
  stretchesOf,
  type ColumnBlock,
  type Factors,
  type RandomColumns,
} from './columnBlocks';
import { dotRange } from './linalg';
import { localBasis, withoutSpan, type LocalBasis } from './localBasis';
import type { OrthogonalDesign } from './orthogonal';
import type { Matrix } from '../model';
import { Refusal } from '../../../words';
import { real, whole } from '../../entry';

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
  const q = components.reduce((sum, c) => sum + c.count, 0);
  const z = new Float64Array(q * n);
  const size = new Float64Array(components.length);
  const parts: { name: string; start: number; count: number }[] = [];
  let at = 0;
  components.forEach(({ name, count, rows }, k) => {
    parts.push({ name, start: at, count });
    size[k] = dotRange(rows, 0, rows, 0, count * n);
    z.set(rows.subarray(0, count * n), at * n);
    at += count;
  });
  const groups = connected(components, n);
  const rows = groups.map((own) => rowsOfGroup(z, n, own));
  const basis = localBasis(x, design, rows);
  const pays = paysApart(
    groups.map(({ length }) => length),
    basis.across.length,
  );
  const condensed = pays
    ? keptApart(design, basis, z, q, groups, rows)
    : takenTogether(design, z, q);
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
  return { design, free, q, parts, blocks: spanned, low, left, t, size, along, known: new Map() };
}

interface Condensed {
  /** Columns of T. */
  readonly low: number;
  readonly blocks: readonly Omit<ColumnBlock, 'spans'>[];
  readonly t: Float64Array;
  readonly along: ReducedLayout['along'];
}

/** Rows in which some of the columns are not zero. */
function rowsOfGroup(z: Float64Array, n: number, columns: Int32Array): Int32Array {
  const rows: number[] = [];
  for (let i = 0; i < n; i++) if (columns.some((j) => z[j * n + i] !== 0)) rows.push(i);
  return Int32Array.from(rows);
}

/** B = ZᵀZ by groups of columns, T = ZᵀQ, both of what X leaves within groups. `z` is changed. */
function keptApart(
  design: OrthogonalDesign,
  { inside, across }: LocalBasis,
  z: Float64Array,
  q: number,
  groups: readonly Int32Array[],
  rows: readonly Int32Array[],
): Condensed {
  const { n, rank } = design;
  // Where nothing is within groups, what reaches across is all that X spans.
  const isAll = inside.every((own) => own.length === 0);
  const basis = isAll ? across : Array.from({ length: rank }, (_, k) => design.direction(k));
  const t = new Float64Array(rank * q);
  const low = across.length;
  const lows = groups.map((group) => new Float64Array(group.length * low));
  groups.forEach((group, g) => {
    const own = rows[g] ?? new Int32Array(0);
    const lean = lows[g] ?? new Float64Array(0);
    group.forEach((j, i) => {
      basis.forEach((column, k) => (t[k * q + j] = sumOver(own, z, j * n, column)));
      withoutSpan(z, j * n, own, inside[g] ?? []);
      across.forEach((column, k) => {
        lean[i * low + k] = isAll ? real(t, k * q + j) : sumOver(own, z, j * n, column);
      });
    });
  });
  const columns = stretchesOf(z, n, q);
  const { from, to } = columns;
  const blocks = groups.map((group, g) => ({
    columns: group,
    gram: grammian(columns, group),
    low: lows[g] ?? new Float64Array(0),
  }));
  const along = (rest: Float64Array): Float64Array => {
    const left = new Float64Array(n);
    left.set(rest, rank);
    design.turnBack(left, 0);
    return Float64Array.from({ length: q }, (_, j) => {
      const start = whole(from, j);
      return dotRange(z, j * n + start, left, start, (to[j] ?? n) - start);
    });
  };
  return { low, blocks, t, along };
}

/** Σ over some rows of a column of `z`, which begins at `from`, times another. */
function sumOver(rows: Int32Array, z: Float64Array, from: number, column: Float64Array): number {
  let sum = 0;
  for (let a = 0; a < rows.length; a++) {
    const row = whole(rows, a);
    sum += real(z, from + row) * real(column, row);
  }
  return sum;
}

/** B = m, all columns one block; no T. `z` is turned in place. */
function takenTogether(design: OrthogonalDesign, z: Float64Array, q: number): Condensed {
  const { n, rank } = design;
  const free = n - rank;
  const t = new Float64Array(rank * q);
  const inner = new Float64Array(q * free);
  for (let j = 0; j < q; j++) {
    design.turn(z, j * n);
    for (let i = 0; i < rank; i++) t[i * q + j] = real(z, j * n + i);
    inner.set(z.subarray(j * n + rank, (j + 1) * n), j * free);
  }
  const columns = Int32Array.from({ length: q }, (_, j) => j);
  const along = (rest: Float64Array): Float64Array =>
    Float64Array.from({ length: q }, (_, j) => dotRange(inner, j * free, rest, 0, free));
  const whole = {
    columns,
    gram: grammian(stretchesOf(inner, free, q), columns),
    low: new Float64Array(0),
  };
  return { low: 0, blocks: q === 0 ? [] : [whole], t, along };
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
