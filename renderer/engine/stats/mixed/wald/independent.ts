import { EigenvalueDecomposition, Matrix as Dense } from 'ml-matrix';
import { timesTransposed } from '../linalg';
import { real } from '../../../entry';

/** A contrast counts as spent when this share of the largest variance is left of it. */
const SPENT = 1e-10;

/**
 * The contrasts turned and scaled so that LΦLᵀ = I, by the eigenvectors of LΦLᵀ; dependent ones
 * are left out. For Satterthwaite df the turned contrasts, and with them the df, depend on the
 * rows that were given, not only on their span.
 */
export function independentRows(
  rows: readonly Float64Array[],
  phi: Float64Array,
  rank: number,
): Float64Array {
  const count = rows.length;
  const flat = new Float64Array(count * rank);
  rows.forEach((row, i) => {
    flat.set(row, i * rank);
  });
  const gram = timesTransposed(
    flat,
    count,
    timesTransposed(flat, count, phi, rank, rank),
    count,
    rank,
  );
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < i; j++) {
      const mean = (real(gram, i * count + j) + real(gram, j * count + i)) / 2;
      gram[i * count + j] = mean;
      gram[j * count + i] = mean;
    }
  }
  const eigen = new EigenvalueDecomposition(Dense.from1DArray(count, count, gram), {
    assumeSymmetric: true,
  });
  const values = eigen.realEigenvalues;
  const largest = Math.max(0, ...values);
  const out: number[] = [];
  values.forEach((value, k) => {
    if (!(value > SPENT * largest)) return;
    const turned = new Float64Array(rank);
    for (let i = 0; i < count; i++) {
      const share = eigen.eigenvectorMatrix.get(i, k) / Math.sqrt(value);
      for (let j = 0; j < rank; j++) turned[j] = real(turned, j) + share * real(flat, i * rank + j);
    }
    out.push(...turned);
  });
  return Float64Array.from(out);
}
