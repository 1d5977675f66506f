import { shuffle, shuffledNumbers } from '../stream';
import type { Stream } from '../stream';
import { evenStart } from './even-start';
import { latinSquares } from './latin';

/** Treatments on a rectangle, row after row. */
export interface Grid {
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
): () => Grid {
  if (rows === treatments && columns === treatments) {
    const next = latinSquares(treatments, random);
    return () => ({ rows, columns, treatments, cells: Int32Array.from(next().flat()) });
  }
  let walk: Grid | null = null;
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

function permuted({ rows, columns, treatments, cells }: Grid, random: Stream): Grid {
  const row = shuffledNumbers(rows, random);
  const column = shuffledNumbers(columns, random);
  const label = shuffledNumbers(treatments, random);
  return {
    rows,
    columns,
    treatments,
    cells: cells.map((_, i) => {
      const r = row[Math.floor(i / columns)] ?? 0;
      const c = column[i % columns] ?? 0;
      return label[cells[r * columns + c] ?? 0] ?? 0;
    }),
  };
}

/**
 * Exchanges two treatments along chains of their cells, and gives the cells that changed. In every
 * row and column the cells of one are paired by lot with those of the other; pairs that share a cell
 * make chains in which the two alternate. Chance turns each chain over or leaves it, or turns over
 * one of them. Every line keeps its numbers, but for the odd cell at the end of a chain. The way back
 * is as likely as the way there, as the same pairs can be made after the exchange. A trade that would
 * leave the two uneven over the whole is not made.
 */
export function trade(
  grid: Grid,
  a: number,
  b: number,
  which: 'each' | 'one',
  random: Stream,
): number[] {
  const { cells } = grid;
  const chains = chainsOf(grid, a, b, random);
  const only = which === 'one' ? random.integer(Math.max(1, chains.length)) : -1;
  const turned: number[] = [];
  let lead = 0;
  chains.forEach((chain, i) => {
    const turn = which === 'one' ? i === only : random.integer(2) === 1;
    for (const cell of chain) {
      lead += (cells[cell] === a) !== turn ? 1 : -1;
      if (turn) turned.push(cell);
    }
  });
  if (Math.abs(lead) > 1) return [];
  turnOver(grid, turned, a, b);
  return turned;
}

function chainsOf(grid: Grid, a: number, b: number, random: Stream): number[][] {
  const { cells, columns, rows } = grid;
  const held: number[] = [];
  const ofLine: [number[], number[]][] = Array.from({ length: rows + columns }, () => [[], []]);
  cells.forEach((treatment, cell) => {
    if (treatment !== a && treatment !== b) return;
    held.push(cell);
    const side = treatment === a ? 0 : 1;
    ofLine[Math.floor(cell / columns)]?.[side].push(cell);
    ofLine[rows + (cell % columns)]?.[side].push(cell);
  });
  const partners = new Map<number, number[]>(held.map((cell) => [cell, []]));
  for (const [ofA, ofB] of ofLine) {
    shuffle(ofA, random);
    shuffle(ofB, random);
    for (let i = 0; i < Math.min(ofA.length, ofB.length); i++) {
      const [one, other] = [ofA[i] ?? 0, ofB[i] ?? 0];
      partners.get(one)?.push(other);
      partners.get(other)?.push(one);
    }
  }
  const met = new Set<number>();
  return held.flatMap((start) => {
    if (met.has(start)) return [];
    const chain = [start];
    met.add(start);
    for (const cell of chain) {
      for (const next of partners.get(cell) ?? []) {
        if (met.has(next)) continue;
        met.add(next);
        chain.push(next);
      }
    }
    return [chain];
  });
}

/** Gives the listed cells the other of two treatments; done twice it changes nothing. */
export function turnOver({ cells }: Grid, turned: readonly number[], a: number, b: number): void {
  for (const cell of turned) cells[cell] = a + b - (cells[cell] ?? 0);
}

// Trades per cell while looking for a grid without excess, and while mixing such grids.
const SEARCH_TRADES = 200;
const MIXING_TRADES = 10;

/**
 * Walks on from a grid to one without `excess` (0 or more, told of the grid as it stands), then on
 * over such grids alone. False where none was found; the grid is then the last one tried.
 */
export function walkApart(grid: Grid, excess: () => number, random: Stream): boolean {
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
