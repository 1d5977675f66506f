import { shuffle, shuffledNumbers } from '../stream';
import type { Stream } from '../stream';
import { num, whole } from '../../entry';

/**
 * A grid, row after row, in which any two treatments differ by one pot at most in every row, in every
 * column and over the whole. It starts from a random arrangement and evens out pairs of treatments:
 * the cells of a pair, as edges between rows and columns, are split along Euler circuits (an
 * equitable edge colouring, de Werra 1971, INFOR 9:184–191). A pair once evened serves every row
 * and column at the same time, and the sum of squared counts falls until all pairs are even.
 */
export function evenStart(
  rows: number,
  columns: number,
  treatments: number,
  random: Stream,
): Int32Array {
  const labels = shuffledNumbers(treatments, random);
  const cells = shuffle(
    Array.from({ length: rows * columns }, (_, i) => num(labels, i % treatments)),
    random,
  );
  const pairs: [number, number][] = [];
  for (let a = 0; a < treatments; a++) for (let b = 0; b < a; b++) pairs.push([a, b]);
  for (let uneven = true; uneven;) {
    uneven = false;
    for (const [a, b] of shuffle(pairs, random)) {
      if (isEven(cells, rows, columns, a, b)) continue;
      uneven = true;
      evenOut(cells, rows, columns, a, b, random);
    }
  }
  return Int32Array.from(cells);
}

function isEven(
  cells: readonly number[],
  rows: number,
  columns: number,
  a: number,
  b: number,
): boolean {
  const lead = new Int32Array(rows + columns + 1);
  cells.forEach((treatment, i) => {
    const sign = treatment === a ? 1 : treatment === b ? -1 : 0;
    for (const line of [Math.floor(i / columns), rows + (i % columns), rows + columns]) {
      lead[line] = whole(lead, line) + sign;
    }
  });
  return lead.every((difference) => Math.abs(difference) <= 1);
}

interface Edge {
  from: number;
  to: number;
  /** −1 for an edge that only closes circuits. */
  cell: number;
  used: boolean;
}

function evenOut(
  cells: number[],
  rows: number,
  columns: number,
  a: number,
  b: number,
  random: Stream,
): void {
  // Vertices: rows, a spare row, columns, a spare column. The spare ones make all degrees even.
  const spareRow = rows;
  const spareColumn = rows + 1 + columns;
  const edges: Edge[] = [];
  cells.forEach((treatment, cell) => {
    if (treatment !== a && treatment !== b) return;
    const to = rows + 1 + (cell % columns);
    edges.push({ from: Math.floor(cell / columns), to, cell, used: false });
  });
  const degree = new Int32Array(spareColumn + 1);
  const count = (edge: Edge): void => {
    degree[edge.from] = whole(degree, edge.from) + 1;
    degree[edge.to] = whole(degree, edge.to) + 1;
  };
  edges.forEach(count);
  const close = (from: number, to: number): void => {
    const edge = { from, to, cell: -1, used: false };
    edges.push(edge);
    count(edge);
  };
  const odd = (vertex: number): boolean => whole(degree, vertex) % 2 === 1;
  for (let r = 0; r < rows; r++) if (odd(r)) close(r, spareColumn);
  for (let c = rows + 1; c < spareColumn; c++) if (odd(c)) close(spareRow, c);
  if (odd(spareRow)) close(spareRow, spareColumn);
  shuffle(edges, random);
  const at: Edge[][] = Array.from({ length: spareColumn + 1 }, () => []);
  for (const edge of edges) {
    at[edge.from]?.push(edge);
    at[edge.to]?.push(edge);
  }
  for (const start of edges) {
    if (start.used) continue;
    // A closed walk between rows and columns has an even number of edges: colours alternate.
    const first = random.integer(2) === 0 ? a : b;
    closedWalk(start.from, at).forEach((edge, i) => {
      if (edge.cell >= 0) cells[edge.cell] = i % 2 === 0 ? first : a + b - first;
    });
  }
}

/** A walk from a vertex along unused edges until it is back and stuck. */
function closedWalk(start: number, at: readonly Edge[][]): Edge[] {
  const walk: Edge[] = [];
  let vertex = start;
  for (;;) {
    const here = at[vertex] ?? [];
    let edge = here.pop();
    while (edge?.used) edge = here.pop();
    if (!edge) return walk;
    edge.used = true;
    walk.push(edge);
    vertex = edge.from === vertex ? edge.to : edge.from;
  }
}
