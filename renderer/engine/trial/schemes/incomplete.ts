import { shuffledNumbers, stream } from '../stream';
import type { Stream } from '../stream';
import { cyclicDesign, type BlockDesign } from './cyclic';

/**
 * An incomplete block design for t treatments in blocks of the stated sizes, with replications
 * that differ by one at most. Balanced (every pair of treatments together equally often) where the
 * numbers allow and a cyclic or searched design is found, else as nearly so as the search comes.
 * The same sizes give the same design: chance enters when it is randomised.
 */
export function incompleteDesign(treatments: number, sizes: readonly number[]): BlockDesign {
  for (const size of sizes) {
    if (size < 2 || size > treatments) {
      throw new Error(
        `incomplete blocks: a block of ${size} was found; 2 to ${treatments} (the treatments) is expected`,
      );
    }
  }
  const cyclic = cyclicDesign(treatments, sizes);
  if (cyclic) return cyclic;
  const random = stream('incomplete blocks', `${treatments}:${sizes.join(',')}`);
  let best: BlockDesign = [];
  let bestCost = Infinity;
  const ideal = idealCost(treatments, sizes);
  for (let attempt = 0; attempt < ATTEMPTS && bestCost > ideal; attempt++) {
    const design = startDesign(treatments, sizes, random);
    const cost = improve(design, treatments, ideal, random);
    if (cost < bestCost) {
      bestCost = cost;
      best = design;
    }
  }
  return best;
}

/** Treatments relabelled and blocks of one size exchanged by lot: every treatment alike. */
export function randomisedDesign(
  design: BlockDesign,
  treatments: number,
  random: Stream,
): BlockDesign {
  const labels = shuffledNumbers(treatments, random);
  const out: BlockDesign = design.map(() => []);
  const sizes = new Set(design.map((block) => block.length));
  for (const size of sizes) {
    const places = design.flatMap((block, i) => (block.length === size ? [i] : []));
    const order = shuffledNumbers(places.length, random);
    places.forEach((place, i) => {
      const from = design[places[order[i] ?? 0] ?? 0] ?? [];
      out[place] = from.map((treatment) => labels[treatment] ?? 0);
    });
  }
  return out;
}

/**
 * Average efficiency factor: harmonic mean of the canonical efficiency factors, the nonzero
 * eigenvalues of I − R^−½ N K⁻¹ Nᵀ R^−½ (John & Williams 1995, Cyclic and Computer Generated
 * Designs, ch. 2). 1 for complete blocks, λt/(rk) for balanced ones, 0 where the design falls apart or
 * a treatment is missing.
 */
export function efficiencyFactor(design: BlockDesign, treatments: number): number {
  const t = treatments;
  const replication = new Float64Array(t);
  for (const block of design) for (const i of block) replication[i] = (replication[i] ?? 0) + 1;
  if (replication.includes(0)) return 0;
  const a: number[][] = Array.from({ length: t }, (_, i) =>
    Array.from({ length: t }, (_, j) => Number(i === j)),
  );
  const total = replication.reduce((sum, r) => sum + r, 0);
  for (const block of design) {
    for (const i of block) {
      for (const j of block) {
        const row = a[i];
        if (row) {
          const scale = Math.sqrt((replication[i] ?? 1) * (replication[j] ?? 1));
          row[j] = (row[j] ?? 0) - 1 / (block.length * scale);
        }
      }
    }
  }
  // The null vector √r is lifted to eigenvalue 1, so that the inverse's trace is one too large.
  for (let i = 0; i < t; i++) {
    for (let j = 0; j < t; j++) {
      const row = a[i];
      if (row)
        row[j] = (row[j] ?? 0) + Math.sqrt((replication[i] ?? 0) * (replication[j] ?? 0)) / total;
    }
  }
  const trace = traceOfInverse(a);
  return trace === null ? 0 : (t - 1) / (trace - 1);
}

const ATTEMPTS = 12;

/** Sum of squared concurrences if every pair came together as equally often as can be. */
function idealCost(treatments: number, sizes: readonly number[]): number {
  const pairs = (treatments * (treatments - 1)) / 2;
  const together = sizes.reduce((sum, k) => sum + (k * (k - 1)) / 2, 0);
  const low = Math.floor(together / pairs);
  const high = together - low * pairs;
  return high * (low + 1) ** 2 + (pairs - high) * low ** 2;
}

function startDesign(treatments: number, sizes: readonly number[], random: Stream): BlockDesign {
  const left = new Int32Array(treatments);
  return sizes.map((size) => {
    // The least used treatments first, ties by lot.
    const order = shuffledNumbers(treatments, random).sort(
      (a, b) => (left[a] ?? 0) - (left[b] ?? 0),
    );
    const block = order.slice(0, size);
    for (const i of block) left[i] = (left[i] ?? 0) + 1;
    return block;
  });
}

/** Exchanges treatments between blocks, cooling down; the design ends at the best that was met. */
function improve(design: BlockDesign, t: number, ideal: number, random: Stream): number {
  const together = new Int32Array(t * t);
  const bump = (i: number, j: number, by: number): number => {
    const before = together[i * t + j] ?? 0;
    together[i * t + j] = before + by;
    together[j * t + i] = before + by;
    return (before + by) ** 2 - before ** 2;
  };
  let cost = 0;
  for (const block of design) {
    block.forEach((i, a) => {
      for (const j of block.slice(a + 1)) cost += bump(i, j, 1);
    });
  }
  const replace = (block: number[], at: number, treatment: number): number => {
    const old = block[at] ?? 0;
    let change = 0;
    block.forEach((other, i) => {
      if (i === at) return;
      change += bump(old, other, -1) + bump(treatment, other, 1);
    });
    block[at] = treatment;
    return change;
  };
  const steps = 400 * t * design.length;
  let best = cost;
  let kept = design.map((block) => [...block]);
  for (let step = 0; step < steps && best > ideal; step++) {
    const heat = 2 * (1 - step / steps) ** 2 + 1e-9;
    const x = design[random.integer(design.length)] ?? [];
    const y = design[random.integer(design.length)] ?? [];
    if (x === y) continue;
    const i = random.integer(x.length);
    const j = random.integer(y.length);
    const p = x[i] ?? 0;
    const q = y[j] ?? 0;
    if (p === q || x.includes(q) || y.includes(p)) continue;
    const change = replace(x, i, q) + replace(y, j, p);
    if (change <= 0 || random.fraction() < Math.exp(-change / heat)) {
      cost += change;
      if (cost < best) {
        best = cost;
        kept = design.map((block) => [...block]);
      }
    } else {
      replace(x, i, p);
      replace(y, j, q);
    }
  }
  design.splice(0, design.length, ...kept);
  return best;
}

/** Trace of a symmetric positive definite matrix's inverse by Gauss–Jordan; null where singular. */
function traceOfInverse(matrix: number[][]): number | null {
  const n = matrix.length;
  const a = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let p = 0; p < n; p++) {
    const pivotRow = a[p] ?? [];
    const pivot = pivotRow[p] ?? 0;
    if (pivot < 1e-10) return null;
    for (let j = 0; j < 2 * n; j++) pivotRow[j] = (pivotRow[j] ?? 0) / pivot;
    for (let i = 0; i < n; i++) {
      const row = a[i];
      if (i === p || !row) continue;
      const factor = row[p] ?? 0;
      if (factor === 0) continue;
      for (let j = 0; j < 2 * n; j++) row[j] = (row[j] ?? 0) - factor * (pivotRow[j] ?? 0);
    }
  }
  return a.reduce((sum, row, i) => sum + (row[n + i] ?? 0), 0);
}
