import { inverse, Matrix as Dense } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fromColumns, type Qr } from '../../../../renderer/engine/stats/linear';
import { householder } from '../../../../renderer/engine/stats/linear/householder';
import { localParts, partedQr } from '../../../../renderer/engine/stats/linear/partedQr';
import { noise } from '../mixed/dense';

const TRAYS = 12;
const POTS = 15;
const n = TRAYS * POTS;
const tray = (i: number): number => Math.floor(i / POTS);
const column = (value: (i: number) => number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => value(i));

/** An intercept, trays but the first, a covariate, the trend of one tray, three feeds. */
const columns = [
  column(() => 1),
  ...Array.from({ length: TRAYS - 1 }, (_, t) => column((i) => Number(tray(i) === t + 1))),
  noise(n, 5),
  column((i) => (tray(i) === 3 ? (i % POTS) - 7 : 0)),
  column((i) => Number(i % 3 === 1)),
  column((i) => Number(i % 3 === 2)),
];
/** Two columns that earlier ones span: the first tray, and two feeds in one. */
const spanned = [column((i) => Number(tray(i) === 0)), column((i) => Number(i % 3 > 0))];

const made = (own: readonly Float64Array[]): { plain: Qr; parted: Qr } => {
  const x = fromColumns(own, n);
  const parts = localParts(x, 0);
  if (!parts) throw new Error('trays are parts of the rows');
  return { plain: householder(x), parted: partedQr(x, parts) };
};

describe('a QR by parts of the rows', () => {
  it('projects as the normal equations do', () => {
    const { parted } = made(columns);
    const x = new Dense(columns.map((own) => [...own])).transpose();
    const hat = x.mmul(inverse(x.transpose().mmul(x))).mmul(x.transpose());
    const y = noise(n, 9);
    const turned = Float64Array.from(y);
    parted.applyQt(turned);
    const coefficients = parted.solveUpper(turned);
    turned.fill(0, parted.rank);
    parted.applyQ(turned);
    const fitted = hat.mmul(Dense.columnVector([...y]));
    turned.forEach((value, i) => expect(value).toBeCloseTo(fitted.get(i, 0), 10));
    const byCoefficients = x.mmul(Dense.columnVector([...coefficients]));
    turned.forEach((value, i) => expect(value).toBeCloseTo(byCoefficients.get(i, 0), 10));
  });

  it.each([
    ['of full rank', columns],
    ['with columns that others span', [...columns.slice(0, 4), ...spanned, ...columns.slice(4)]],
    ['that begins with what others span', [...spanned, ...columns]],
  ])('keeps the order of the columns of a matrix %s', (_, own) => {
    const { plain, parted } = made(own);
    expect(parted.kept).toEqual(plain.kept);
    expect(parted.aliased).toEqual(plain.aliased);
    own.forEach((_, j) => {
      const other = plain.coordinates(j);
      parted
        .coordinates(j)
        .forEach((value, k) => expect(Math.abs(value)).toBeCloseTo(Math.abs(other[k] ?? NaN), 9));
    });
    plain.kept.forEach((_, k) => {
      const [one, other] = [parted.direction(k), plain.direction(k)];
      const product = one.reduce((sum, value, i) => sum + value * (other[i] ?? NaN), 0);
      expect(Math.abs(product)).toBeCloseTo(1, 10);
    });
    plain.aliased.forEach((_, k) => {
      const other = plain.aliasCombination(k);
      parted.aliasCombination(k).forEach((value, i) => expect(value).toBeCloseTo(other[i] ?? 0, 9));
    });
  });

  it('turns back what it turned', () => {
    const { parted } = made(columns);
    const y = noise(n, 3);
    const turned = Float64Array.from(y);
    parted.applyQt(turned);
    const size = (list: Float64Array): number => list.reduce((sum, v) => sum + v * v, 0);
    expect(size(turned)).toBeCloseTo(size(Float64Array.from(y)), 9);
    parted.applyQ(turned);
    turned.forEach((value, i) => expect(value).toBeCloseTo(y[i] ?? NaN, 11));
  });

  it('is not made where hardly a column keeps to rows of its own, or there is little to gain', () => {
    expect(localParts(fromColumns(columns.slice(0, 6), n), 0)).toBeNull();
    expect(localParts(fromColumns(columns, n))).toBeNull();
  });
});
