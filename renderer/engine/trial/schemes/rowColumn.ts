import { shuffle, shuffledNumbers } from '../stream';
import type { Stream } from '../stream';
import { evenStart } from './evenStart';
import { latinSquares } from './latin';
import { num, whole } from '../../entry';

/** Treatments on a rectangle, row after row. */
export interface TreatmentGrid {
  rows: number;
  columns: number;
  treatments: number;
  cells: Int32Array;
}

// Rounds over all pairs of treatments until the start is forgotten, and between one grid and the next.
const FIRST_ROUNDS = 12;
const NEXT_ROUNDS = 3;

/**
 * Random grids, one after the other, of the class in which any two treatments differ by one pot at
 * most in every row, in every column and over the whole. A walk of symmetric trades between pairs of
 * treatments is in the long run uniform over the grids that trades reach (all, in every class small
 * enough to be listed); every grid is then one of equally many made by permuting its rows, columns
 * and treatments, which keeps the class. A Latin square is drawn as one.
 */
export function evenGrids(
  rows: number,
  columns: number,
  treatments: number,
  random: Stream,
): () => TreatmentGrid {
  if (rows === treatments && columns === treatments) {
    const next = latinSquares(treatments, random);
    return () => ({ rows, columns, treatments, cells: Int32Array.from(next().flat()) });
  }
  let walk: TreatmentGrid | null = null;
  return () => {
    const rounds = walk ? NEXT_ROUNDS : FIRST_ROUNDS;
    walk ??= { rows, columns, treatments, cells: evenStart(rows, columns, treatments, random) };
    const pairs = pairsOf(treatments);
    for (let round = 0; round < rounds; round++) {
      for (const [a, b] of shuffle(pairs, random)) trade(walk, a, b, 'each', random);
    }
    return permuted(walk, random);
  };
}

function pairsOf(treatments: number): [number, number][] {
  const pairs: [number, number][] = [];
  for (let a = 0; a < treatments; a++) for (let b = 0; b < a; b++) pairs.push([a, b]);
  return pairs;
}

function permuted(
  { rows, columns, treatments, cells }: TreatmentGrid,
  random: Stream,
): TreatmentGrid {
  const row = shuffledNumbers(rows, random);
  const column = shuffledNumbers(columns, random);
  const label = shuffledNumbers(treatments, random);
  return {
    rows,
    columns,
    treatments,
    cells: cells.map((_, i) => {
      const r = num(row, Math.floor(i / columns));
      const c = num(column, i % columns);
      return num(label, whole(cells, r * columns + c));
    }),
  };
}

/**
 * Exchanges two treatments along chains of their cells, and gives the cells that changed. In every
 * row and column the cells of one are paired by lot with those of the other; pairs that share a cell
 * make chains in which the two alternate. Chance turns each chain over or leaves it, or turns over
 * the one of a cell taken by lot. Every line keeps its numbers, but for the odd cell at the end of a chain. The way back
 * is as likely as the way there, as the same pairs can be made after the exchange. A trade that would
 * leave the two uneven over the whole is not made.
 */
export function trade(
  grid: TreatmentGrid,
  a: number,
  b: number,
  which: 'each' | 'one',
  random: Stream,
): number[] {
  const { cells } = grid;
  const { held, inRow, inColumn } = pairsInLines(grid, a, b, random);
  if (held.length === 0) return [];
  const chosen = which === 'one' ? num(held, random.integer(held.length)) : -1;
  const met = new Uint8Array(cells.length);
  const turned: number[] = [];
  let lead = 0;
  for (const start of held) {
    if (met[start]) continue;
    const chain = [start];
    met[start] = 1;
    for (const cell of chain) {
      for (const next of [inRow[cell] ?? -1, inColumn[cell] ?? -1]) {
        if (next < 0 || met[next]) continue;
        met[next] = 1;
        chain.push(next);
      }
    }
    const turn = which === 'one' ? chain.includes(chosen) : random.integer(2) === 1;
    for (const cell of chain) {
      lead += (cells[cell] === a) !== turn ? 1 : -1;
      if (turn) turned.push(cell);
    }
  }
  if (Math.abs(lead) > 1) return [];
  turnOver(grid, turned, a, b);
  return turned;
}

/** The cells of two treatments, and with whom each is paired in its row and in its column; −1: none. */
function pairsInLines(
  { rows, columns, cells }: TreatmentGrid,
  a: number,
  b: number,
  random: Stream,
): { held: number[]; inRow: Int32Array; inColumn: Int32Array } {
  const inRow = new Int32Array(cells.length).fill(-1);
  const inColumn = new Int32Array(cells.length).fill(-1);
  const held: number[] = [];
  const ofA: number[] = [];
  const ofB: number[] = [];
  const pairUp = (partner: Int32Array): void => {
    if (ofA.length > 1 || ofB.length > 1) {
      shuffle(ofA, random);
      shuffle(ofB, random);
    }
    for (let i = Math.min(ofA.length, ofB.length) - 1; i >= 0; i--) {
      const [one, other] = [num(ofA, i), num(ofB, i)];
      partner[one] = other;
      partner[other] = one;
    }
    ofA.length = 0;
    ofB.length = 0;
  };
  for (let row = 0; row < rows; row++) {
    for (let cell = row * columns; cell < (row + 1) * columns; cell++) {
      const treatment = cells[cell];
      if (treatment !== a && treatment !== b) continue;
      held.push(cell);
      (treatment === a ? ofA : ofB).push(cell);
    }
    pairUp(inRow);
  }
  for (let column = 0; column < columns; column++) {
    for (let cell = column; cell < cells.length; cell += columns) {
      const treatment = cells[cell];
      if (treatment === a) ofA.push(cell);
      else if (treatment === b) ofB.push(cell);
    }
    pairUp(inColumn);
  }
  return { held, inRow, inColumn };
}

/** Gives the listed cells the other of two treatments; done twice it changes nothing. */
export function turnOver(
  { cells }: TreatmentGrid,
  turned: readonly number[],
  a: number,
  b: number,
): void {
  for (const cell of turned) cells[cell] = a + b - whole(cells, cell);
}

// Trades per cell while looking for a grid without excess, and while mixing such grids.
const SEARCH_TRADES = 200;
const MIXING_TRADES = 4;

/**
 * Walks on from a grid to one without `excess` (0 or more, told of the grid as it stands), then on
 * over such grids alone. False where none was found; the grid is then the last one tried.
 */
export function walkApart(grid: TreatmentGrid, excess: () => number, random: Stream): boolean {
  const { treatments, cells } = grid;
  let left = excess();
  if (treatments < 2) return left === 0;
  const step = (): void => {
    const a = random.integer(treatments);
    const b = (a + 1 + random.integer(treatments - 1)) % treatments;
    const turned = trade(grid, a, b, 'one', random);
    if (turned.length === 0) return;
    const now = excess();
    // Now and then a step uphill while looking, out of a dead end.
    if (now <= left || (left > 0 && random.fraction() < Math.exp(left - now) / 4)) left = now;
    else turnOver(grid, turned, a, b);
  };
  for (let trades = SEARCH_TRADES * cells.length; left > 0 && trades > 0; trades--) step();
  if (left > 0) return false;
  for (let trades = MIXING_TRADES * cells.length; trades > 0; trades--) step();
  return true;
}
