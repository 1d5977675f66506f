import type { BlockDesign } from './cyclic';
import { num, real } from '../../entry';

/**
 * No design of equal replication comes above this: the canonical efficiency factors average
 * t(k − 1)/(k(t − 1)) with blocks of k (John & Williams 1995, ch. 2), or the same with the mean k of
 * unequal ones, and their harmonic mean is no larger.
 */
export function efficiencyBound(t: number, sizes: readonly number[]): number {
  const places = sizes.reduce((sum, k) => sum + k, 0);
  return t < 2 ? 1 : (t * (places - sizes.length)) / places / (t - 1);
}

/**
 * Average efficiency factor: harmonic mean of the canonical efficiency factors, the nonzero
 * eigenvalues of I − R^−½ N K⁻¹ Nᵀ R^−½ (John & Williams 1995, Cyclic and Computer Generated
 * Designs, ch. 2). 1 for complete blocks, λt/(rk) for balanced ones, 0 where the design falls apart or
 * a treatment is missing.
 */
export function efficiencyFactor(design: BlockDesign, treatments: number): number {
  const replication = new Float64Array(treatments);
  for (const block of design) for (const i of block) replication[i] = real(replication, i) + 1;
  const information: number[][] = Array.from({ length: treatments }, (_, i) =>
    Array.from({ length: treatments }, (_, j) => (i === j ? real(replication, i) : 0)),
  );
  for (const block of design) {
    for (const i of block) {
      for (const j of block) {
        const row = information[i];
        if (row) row[j] = num(row, j) - 1 / block.length;
      }
    }
  }
  return meanEfficiency(information, replication);
}

/**
 * Harmonic mean of the canonical efficiency factors from the information matrix of the treatments
 * (after whatever was allowed for) and their replications; 0 where some can't be compared.
 */
export function meanEfficiency(
  information: readonly (readonly number[])[],
  replication: ArrayLike<number>,
): number {
  const r = Array.from(replication);
  if (r.some((n) => !(n > 0))) return 0;
  if (r.length === 1) return 1;
  const total = r.reduce((sum, n) => sum + n, 0);
  // The null vector √r is lifted to eigenvalue 1, so that the inverse's trace is one too large.
  const lifted = r.map((ri, i) =>
    r.map((rj, j) => {
      const root = Math.sqrt(ri * rj);
      return (information[i]?.[j] ?? 0) / root + root / total;
    }),
  );
  const trace = traceOfInverse(lifted);
  return trace === null ? 0 : (r.length - 1) / (trace - 1);
}

/** Trace of a symmetric positive definite matrix's inverse by Gauss–Jordan; null where singular. */
function traceOfInverse(matrix: number[][]): number | null {
  const n = matrix.length;
  const a = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let p = 0; p < n; p++) {
    const pivotRow = a[p] ?? [];
    const pivot = num(pivotRow, p);
    if (pivot < 1e-9) return null;
    for (let j = 0; j < 2 * n; j++) pivotRow[j] = num(pivotRow, j) / pivot;
    for (let i = 0; i < n; i++) {
      const row = a[i];
      if (i === p || !row) continue;
      const factor = num(row, p);
      if (factor === 0) continue;
      for (let j = 0; j < 2 * n; j++) row[j] = num(row, j) - factor * num(pivotRow, j);
    }
  }
  return a.reduce((sum, row, i) => sum + num(row, n + i), 0);
}
