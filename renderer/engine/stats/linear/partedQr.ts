import type { Matrix } from '../model';
import { householder, SPANNED, type Qr } from './householder';
import { dot, fromColumns } from './matrix';
import { entry, real, whole } from '../../entry';

/** Rows, and the columns that are zero outside them. */
export interface LocalPart {
  readonly rows: Int32Array;
  readonly columns: readonly number[];
}

/** Fewer columns than this within rows of their own are not worth parting a matrix for. */
const FEWEST = 8;
/** Multiplications of a QR column by column, n p², that are not worth parting a matrix for either. */
const FEW_STEPS = 2e6;
/** A column is looked at where it is zero in all but this share of the rows. */
const SPARSE = 1 / 8;

/**
 * Parts of the rows with columns of their own, such as the indicators of trays; last the rows that are
 * left, without any. null where there are too few such columns, or too little to gain.
 */
export function localParts(
  { rows: n, columns: p, data }: Matrix,
  fewSteps = FEW_STEPS,
): LocalPart[] | null {
  if (n * p * p < fewSteps) return null;
  const supports = Array.from({ length: p }, (): number[] => []);
  const most = Math.floor(n * SPARSE);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < p; j++) {
      if (data[i * p + j] === 0) continue;
      const own = entry(supports, j);
      if (own.length <= most) own.push(i);
    }
  }
  const sparse = supports
    .map((rows, column) => ({ rows, column }))
    .filter(({ rows }) => rows.length > 0 && rows.length <= most)
    .sort((a, b) => a.rows.length - b.rows.length);
  if (sparse.length < FEWEST) return null;
  const home = new Int32Array(n).fill(-1);
  const parts: { rows: Int32Array; columns: number[] }[] = [];
  for (const { rows, column } of sparse) {
    const own = whole(home, rows[0] ?? -1);
    if (rows.some((row) => home[row] !== own)) continue;
    if (own >= 0) entry(parts, own).columns.push(column);
    else {
      for (const row of rows) home[row] = parts.length;
      parts.push({ rows: Int32Array.from(rows), columns: [column] });
    }
  }
  if (parts.reduce((sum, { columns }) => sum + columns.length, 0) < FEWEST) return null;
  const rest = Int32Array.from({ length: n }, (_, i) => i).filter((row) => whole(home, row) < 0);
  return [...parts, { rows: rest, columns: [] }];
}

/** A part with the factors of its own columns, and where its other rows begin among those of all. */
interface Turned {
  readonly rows: Int32Array;
  readonly qr: Qr;
  readonly from: number;
  readonly room: Float64Array;
}

/**
 * QR of a matrix with columns that are zero outside some rows: those part by part, what they leave of
 * the other columns, then the few coordinates in which all columns lie, in their order. Work grows with
 * the columns that reach across parts instead of with all.
 */
export function partedQr(x: Matrix, parts: readonly LocalPart[], spanned = SPANNED): Qr {
  const { rows: n, columns: p, data } = x;
  let locals = 0;
  const turned = parts.map(({ rows, columns }): Turned => {
    const own = columns.map((j) => Float64Array.from(rows, (row) => real(data, row * p + j)));
    const qr = householder(fromColumns(own, rows.length), spanned);
    const from = locals;
    locals += qr.rank;
    return { rows, qr, from, room: new Float64Array(rows.length) };
  });
  const isLocal = new Set(parts.flatMap(({ columns }) => columns));
  const across = Array.from({ length: p }, (_, j) => j).filter((j) => !isLocal.has(j));
  const { turn, turnBack } = turning(turned, locals, n);
  const columns = across.map((j) => {
    const column = new Float64Array(n);
    for (let i = 0; i < n; i++) column[i] = real(data, i * p + j);
    turn(column);
    return column;
  });
  const rest = householder(
    fromColumns(
      columns.map((column) => column.subarray(locals)),
      n - locals,
    ),
    spanned,
    Float64Array.from(columns, (column) => Math.sqrt(dot(column, column))),
  );
  const within = locals + rest.rank;
  const inside = insideOf();
  const small = householder(inside, spanned);
  return {
    ...small,
    rows: n,
    applyQt(v) {
      turn(v);
      rest.applyQt(v.subarray(locals));
      small.applyQt(v.subarray(0, within));
    },
    applyQ,
    direction(k) {
      const e = new Float64Array(n);
      e[k] = 1;
      applyQ(e);
      return e;
    },
  };

  function applyQ(v: Float64Array): void {
    small.applyQ(v.subarray(0, within));
    rest.applyQ(v.subarray(locals));
    turnBack(v);
  }

  /** All columns in the coordinates of the space that they span. */
  function insideOf(): Matrix {
    const all = new Array<Float64Array>(p);
    turned.forEach(({ qr, from }, s) => {
      parts[s]?.columns.forEach((j, own) => {
        const column = new Float64Array(within);
        column.set(qr.coordinates(own), from);
        all[j] = column;
      });
    });
    across.forEach((j, k) => {
      const column = new Float64Array(within);
      column.set(entry(columns, k).subarray(0, locals));
      column.set(rest.coordinates(k), locals);
      all[j] = column;
    });
    return fromColumns(all, within);
  }
}

/** Turns n values part by part, and back: coordinates in own columns come first, all others after them. */
function turning(parts: readonly Turned[], locals: number, n: number) {
  const spread = new Float64Array(n);
  const turn = (v: Float64Array): void => {
    let after = locals;
    for (const { rows, qr, from, room } of parts) {
      const { rank } = qr;
      for (let i = 0; i < rows.length; i++) room[i] = real(v, whole(rows, i));
      qr.applyQt(room);
      for (let i = 0; i < rank; i++) spread[from + i] = real(room, i);
      for (let i = rank; i < rows.length; i++) spread[after++] = real(room, i);
    }
    v.set(spread);
  };
  const turnBack = (v: Float64Array): void => {
    spread.set(v);
    let after = locals;
    for (const { rows, qr, from, room } of parts) {
      const { rank } = qr;
      for (let i = 0; i < rank; i++) room[i] = real(spread, from + i);
      for (let i = rank; i < rows.length; i++) room[i] = real(spread, after++);
      qr.applyQ(room);
      for (let i = 0; i < rows.length; i++) v[whole(rows, i)] = real(room, i);
    }
  };
  return { turn, turnBack };
}
