import type { Design } from '../design';
import { selectColumns } from '../linear';
import { backward, factorInPlace, forward, type CellFit, type CellSolution } from './cellFit';
import type { CellFits } from './cells';
import { levelCells } from './levelCells';
import { add, real, whole } from '../../entry';

const MOST_STEPS = 30;
/** A step of the log means smaller than this is the last. */
const SETTLED = 1e-8;
/** Log means stay within ± this. */
const FARTHEST = 30;

/**
 * Fits of counts under any layout of their treatments: means by the likelihood of Poisson counts, which
 * estimates them whatever their variance is (Gourieroux, Monfort & Trognon 1984, Econometrica 52,
 * 681–700), and errors by Pearson's χ² over its df. A fit that doesn't settle has no errors, and counts
 * as extreme.
 */
export function countFits(design: Design, offset: Float64Array | null): CellFits {
  const { y } = design;
  const n = y.length;
  const treated = design.terms.filter(({ role }) => role === 'treatment');
  const own = treated.flatMap((term) => term.columns);
  const stay = design.columns.flatMap((_, j) => (own.includes(j) ? [] : [j]));
  const { m, observed, filled, moved } = levelCells(design, treated);
  const fixed = selectColumns(design.x, stay);
  // Near the counts themselves steps do not overshoot.
  const start = y.map((value) => Math.log(value + 0.1));

  const s = stay.length;
  const p = s + own.length;
  const byCell = new Float64Array(m * own.length);
  filled.forEach((cells, a) => {
    for (const cell of cells) byCell[cell * own.length + a] = 1;
  });
  const rows = new Float64Array(n * p);
  for (let i = 0; i < n; i++) rows.set(fixed.data.subarray(i * s, (i + 1) * s), i * p);
  return {
    columns: [...stay, ...own],
    count: m,
    observed,
    moved,
    fit(layout) {
      for (let i = 0; i < n; i++) {
        const from = whole(layout, i) * own.length;
        rows.set(byCell.subarray(from, from + own.length), i * p + s);
      }
      return fitted({ rows, p, y, offset }, start);
    },
    without() {
      throw new Error('randomisation test: nothing can be taken out of counts');
    },
  };
}

interface Counted {
  readonly rows: Float64Array;
  readonly p: number;
  readonly y: Float64Array;
  readonly offset: Float64Array | null;
}

/** Iteratively reweighted least squares by the normal equations. */
function fitted({ rows, p, y, offset }: Counted, start: Float64Array): CellFit {
  const n = y.length;
  let eta = start;
  let found: { solution: CellSolution; along: Float64Array } | null = null;
  let settled = false;
  for (let step = 0; step < MOST_STEPS && !settled; step++) {
    const lower = new Float64Array(p * p);
    const along = new Float64Array(p);
    for (let i = 0; i < n; i++) {
      const mu = Math.exp(real(eta, i));
      const z = real(eta, i) - (offset?.[i] ?? 0) + (real(y, i) - mu) / mu;
      const from = i * p;
      for (let a = 0; a < p; a++) {
        const x = mu * real(rows, from + a);
        if (x === 0) continue;
        add(along, a, x * z);
        for (let c = 0; c <= a; c++) add(lower, a * p + c, x * real(rows, from + c));
      }
    }
    const kept = factorInPlace(lower, p);
    let rank = 0;
    for (const one of kept) rank += one;
    const solution = { kept, rank, lower, df: n - rank, joint: new Map() };
    forward(solution, along);
    found = { solution, along };
    const beta = backward(solution, along.slice());
    const before = eta;
    eta = Float64Array.from(before, (_, i) => {
      let sum = offset?.[i] ?? 0;
      for (let a = 0; a < p; a++) sum += real(rows, i * p + a) * real(beta, a);
      return Math.max(-FARTHEST, Math.min(FARTHEST, sum));
    });
    settled = eta.every((value, i) => Math.abs(value - real(before, i)) < SETTLED);
  }
  if (found === null) throw new Error('randomisation test: counts were not fitted');
  let pearson = 0;
  eta.forEach((value, i) => {
    const mu = Math.exp(value);
    pearson += (real(y, i) - mu) ** 2 / mu;
  });
  const { df } = found.solution;
  return { ...found, ms: settled && df > 0 ? pearson / df : NaN };
}
