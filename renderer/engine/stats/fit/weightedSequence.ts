import type { Design } from '../design';
import { fromRows } from '../linear';
import { choleskyInPlace, inverseOf } from '../mixed/cholesky';
import type { FittedModel, Matrix } from '../model';
import { num, real } from '../../entry';

/**
 * Contrasts of each term after the ones before it by generalised least squares: the rows of R,
 * RᵀR = XᵀV⁻¹X, that belong to the term. With equal numbers they are the ones of least squares.
 * null where the covariance of the coefficients cannot be inverted.
 */
export function weightedSequence(design: Design, model: FittedModel): Matrix[] | null {
  const { coefficients, covariance } = model;
  const columns = coefficients.length;
  const kept = [...coefficients.keys()].filter((j) => !Number.isNaN(coefficients[j]));
  const p = kept.length;
  const phi = new Float64Array(p * p);
  kept.forEach((j, a) => {
    kept.forEach((k, b) => {
      phi[a * p + b] = real(covariance.data, j * columns + k);
    });
  });
  const information = inverseOf(phi, p);
  if (information === null || !choleskyInPlace(information, p)) return null;
  return design.terms.map((term) => {
    const rows = kept.flatMap((own, k) => {
      if (!term.columns.includes(own)) return [];
      const row = new Float64Array(columns);
      for (let j = k; j < p; j++) row[num(kept, j)] = real(information, j * p + k);
      return [row];
    });
    return fromRows(rows, columns);
  });
}
