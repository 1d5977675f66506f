import type { Stream } from '../stream';
import { shuffledNumbers } from '../stream';
import { Refusal } from '../../../words';
import { num, whole } from '../../entry';

/** A Latin square: `square[row][column]` is a symbol 0 … n − 1. */
export type Square = number[][];

// Above this order the reduced squares are too many to list (9408 of order 6).
const LISTED_UP_TO = 5;

/**
 * Random Latin squares of order n, one after the other. Up to order 5 exactly uniform over all
 * squares: a reduced square by lot, then all columns and all rows but the first permuted, which
 * reaches every square from exactly one reduced one. Above, the walk of Jacobson & Matthews (1996),
 * J. Combin. Des. 4:405–437, for n³ visits to proper squares, over which it is uniform in the long
 * run; rows and columns are then permuted.
 */
export function latinSquares(
  n: number,
  random: Stream,
  reduced: readonly Square[] = listedSquares(n),
): () => Square {
  if (!Number.isInteger(n) || n < 1) {
    throw new Refusal(`Latin square of order ${n}: a whole number from 1 up is expected`);
  }
  const permuted = (square: Square, rows: readonly number[]): Square => {
    const columns = shuffledNumbers(n, random);
    return rows.map((row) => columns.map((column) => square[row]?.[column] ?? 0));
  };
  if (n > LISTED_UP_TO) {
    const walk = walkOverSquares(n, random);
    let visits = n * n * n;
    return () => {
      const square = walk(visits);
      // The walk goes on from the square it left, which was random already.
      visits = n;
      return permuted(square, shuffledNumbers(n, random));
    };
  }
  return () => {
    const square = reduced[random.integer(reduced.length)] ?? [];
    return permuted(square, [0, ...shuffledNumbers(n - 1, random).map((row) => row + 1)]);
  };
}

/** The reduced squares where there are few enough to draw from a list; else none. */
export const listedSquares = (n: number): Square[] => (n > LISTED_UP_TO ? [] : reducedSquares(n));

/** All Latin squares whose first row and first column run 0, 1, … n − 1. */
export function reducedSquares(n: number): Square[] {
  const found: Square[] = [];
  const cells = new Int8Array(n * n);
  // Bit s of a row or column: symbol s stands in it.
  const inRow = new Int32Array(n);
  const inColumn = new Int32Array(n);
  const flip = (row: number, column: number, bit: number): void => {
    inRow[row] = whole(inRow, row) ^ bit;
    inColumn[column] = whole(inColumn, column) ^ bit;
  };
  const fill = (cell: number): void => {
    if (cell === n * n) {
      found.push(
        Array.from({ length: n }, (_, row) => [...cells.subarray(row * n, (row + 1) * n)]),
      );
      return;
    }
    const row = Math.floor(cell / n);
    const column = cell % n;
    const taken = whole(inRow, row) | whole(inColumn, column);
    const fixed = row === 0 || column === 0;
    for (let symbol = fixed ? row + column : 0; symbol < n; symbol++) {
      const bit = 1 << symbol;
      if ((taken & bit) === 0) {
        cells[cell] = symbol;
        flip(row, column, bit);
        fill(cell + 1);
        flip(row, column, bit);
      }
      if (fixed) return;
    }
  };
  fill(0);
  return found;
}

/**
 * Walks over proper and improper squares, held as a cube of incidences whose every line sums to 1;
 * an improper square has one cell at −1.
 */
function walkOverSquares(n: number, random: Stream): (visits: number) => Square {
  const cube = new Int8Array(n * n * n);
  const at = (r: number, c: number, s: number): number => (r * n + c) * n + s;
  for (let r = 0; r < n; r++) for (let c = 0; c < n; c++) cube[at(r, c, (r + c) % n)] = 1;
  const add = (r: number, c: number, s: number, by: number): void => {
    const i = at(r, c, s);
    cube[i] = (cube[i] ?? 0) + by;
  };
  /** A place on a line that holds 1; an improper cell's lines hold two, one of which is taken. */
  const one = (value: (i: number) => number | undefined): number => {
    const ones: number[] = [];
    for (let i = 0; i < n; i++) if (value(i) === 1) ones.push(i);
    return num(ones, ones.length > 1 ? random.integer(ones.length) : 0);
  };
  return (wanted) => {
    let bad: [number, number, number] | null = null;
    // Only visits to proper squares are counted: stopping at the first one after a set number of steps
    // would favour squares that many improper ones lead to.
    for (let visits = 0; visits < wanted;) {
      let cell = bad;
      while (!cell) {
        const r = random.integer(n);
        const c = random.integer(n);
        const s = random.integer(n);
        if (cube[at(r, c, s)] === 0) cell = [r, c, s];
      }
      const [r, c, s] = cell;
      const r2 = one((i) => cube[at(i, c, s)]);
      const c2 = one((i) => cube[at(r, i, s)]);
      const s2 = one((i) => cube[at(r, c, i)]);
      for (const [row, a] of [
        [r, 1],
        [r2, -1],
      ] as const) {
        add(row, c, s, a);
        add(row, c2, s, -a);
        add(row, c, s2, -a);
        add(row, c2, s2, a);
      }
      bad = cube[at(r2, c2, s2)] === -1 ? [r2, c2, s2] : null;
      if (!bad) visits++;
    }
    return Array.from({ length: n }, (_, r) =>
      Array.from({ length: n }, (_, c) => {
        let symbol = 0;
        while (cube[at(r, c, symbol)] !== 1) symbol++;
        return symbol;
      }),
    );
  };
}
