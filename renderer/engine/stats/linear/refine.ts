import type { Matrix } from '../model';
import type { Qr } from './householder';
import { add, real } from '../../entry';

/**
 * Refines a least squares solution with residuals accumulated in twice the working precision:
 * r + Xb = y and Xᵀr = 0 solved together (Björck 1967, BIT 7, 257–278). `coefficients` (kept
 * columns only) and `residuals` are improved in place.
 */
export function refine(
  x: Matrix,
  qr: Qr,
  y: Float64Array,
  coefficients: Float64Array,
  residuals: Float64Array,
): void {
  const columns = qr.kept;
  for (let pass = 0; pass < 2; pass++) {
    const f = new Float64Array(x.rows);
    for (let i = 0; i < x.rows; i++) {
      const sum = new LongSum(real(y, i));
      sum.add(-real(residuals, i));
      columns.forEach((j, k) => {
        sum.addProduct(-real(x.data, i * x.columns + j), real(coefficients, k));
      });
      f[i] = sum.value();
    }
    const g = new Float64Array(qr.rank);
    columns.forEach((j, k) => {
      const sum = new LongSum(0);
      for (let i = 0; i < x.rows; i++) {
        sum.addProduct(-real(x.data, i * x.columns + j), real(residuals, i));
      }
      g[k] = sum.value();
    });
    const z = qr.solveLower(g);
    qr.applyQt(f);
    const top = f.slice(0, qr.rank).map((value, k) => value - real(z, k));
    const step = qr.solveUpper(top);
    f.set(z, 0);
    qr.applyQ(f);
    for (let i = 0; i < x.rows; i++) add(residuals, i, real(f, i));
    for (let k = 0; k < qr.rank; k++) add(coefficients, k, real(step, k));
  }
}

/** A sum kept as an unevaluated pair of doubles (Dekker 1971, Numerische Mathematik 18). */
class LongSum {
  private low = 0;

  constructor(private high: number) {}

  add(value: number): void {
    const sum = this.high + value;
    const part = sum - this.high;
    this.low += this.high - (sum - part) + (value - part);
    this.high = sum;
  }

  addProduct(a: number, b: number): void {
    const product = a * b;
    this.add(product);
    const [aHigh, aLow] = split(a);
    const [bHigh, bLow] = split(b);
    this.low += aLow * bLow - (product - aHigh * bHigh - aLow * bHigh - aHigh * bLow);
  }

  value(): number {
    return this.high + this.low;
  }
}

function split(a: number): [number, number] {
  const c = 134217729 * a;
  const high = c - (c - a);
  return [high, a - high];
}
