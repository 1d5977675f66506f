import { Refusal } from '../../../words';
import { num } from '../../entry';

/**
 * Orthogonal polynomial weights for levels at the given amounts, equally spaced or not: element
 * d − 1 belongs to degree d. Each set sums to zero, is orthogonal to the others, and is scaled so
 * that its sum of products with the amounts to the same degree is one: the first contrast is then
 * the slope per unit of the amount, the second the coefficient of its square, and so on (Fisher &
 * Yates 1938, by the recurrence of Forsythe 1957). Throws on amounts that are not distinct.
 */
export function orthogonalPolynomials(amounts: readonly number[], highest: number): number[][] {
  const n = amounts.length;
  if (n < 2 || new Set(amounts).size !== n || amounts.some((x) => !Number.isFinite(x))) {
    throw new Refusal(
      `trend: found the amounts ${amounts.join(', ')}; two or more different numbers are expected`,
    );
  }
  if (!Number.isInteger(highest) || highest < 1 || highest >= n) {
    throw new Refusal(`trend: degree ${highest} of ${n} levels; expected 1 to ${n - 1}`);
  }
  const product = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * num(b, i), 0);
  const basis: number[][] = [amounts.map(() => 1)];
  for (let degree = 1; degree <= highest; degree++) {
    const last = basis[degree - 1] ?? [];
    let next = last.map((value, i) => value * num(amounts, i));
    // Twice: the second pass takes away what the first left by rounding.
    for (let pass = 0; pass < 2; pass++) {
      for (const lower of basis) {
        const share = product(next, lower) / product(lower, lower);
        next = next.map((value, i) => value - share * num(lower, i));
      }
    }
    basis.push(next);
  }
  return basis.slice(1).map((p) => {
    // p is monic, so its product with xᵈ equals its product with itself.
    const square = product(p, p);
    return p.map((value) => value / square);
  });
}
