import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** One value of a column that has only begun. */
export interface EarlyValue {
  /** Logarithm of the growth since it was measured before; of the value itself, where it was not. */
  log: number;
  treatment: string;
  tray: string;
}

/** Powers of ten by which a slipped or forgotten point, or grams for kilograms, puts a value off. */
const SLIPS = [-3, -2, -1, 1, 2, 3].map((power) => power * Math.LN10);
/** How often a value slips in each of these ways. */
const SLIPPED = 0.01;
/** Equal plants differ by 10 to 40 %, poor ones by more (coefficient of variation): alike likely. */
const PLANT_SDS = [0.1, 0.2, 0.3, 0.4, 0.6].map((cv) => Math.sqrt(Math.log1p(cv * cv)));
/** Treatments differ up to threefold: the standard deviation of what is spread evenly over that. */
const TREATMENT_SD = Math.log(3) / Math.sqrt(12);
/** Trays of one rack differ less than treatments. */
const TRAY_SD = 0.15;
/** Plants mostly grow twofold to sixtyfold (mean of the logarithms ± 2 SD). */
const USUAL = { mean: Math.log(11), sd: Math.log(60 / 2) / 4 };
const ANYTHING = { mean: 0, sd: 20 };

/**
 * The chance of each value to have slipped by a power of ten, one of them at most: Bayes' rule over
 * "none has" and "this one has, by so much". Logarithms are taken for normal: one mean, and a
 * deviation of each treatment, tray and plant. With K their covariance and u = K⁻¹(y − mean), a slip
 * by d in value i adds d·uᵢ − d²·(K⁻¹)ᵢᵢ/2 to the logarithm of the likelihood.
 * `grown`: the logarithms are of growth, of which something is known before any value is.
 * For few values: the time grows with the cube of their number.
 */
export function slipChances(values: readonly EarlyValue[], grown: boolean): number[] {
  const { mean, sd } = grown ? USUAL : ANYTHING;
  const n = values.length;
  const away = values.map(({ log }) => log - mean);
  const weighed = PLANT_SDS.map((plantSd) => {
    const covariance = Matrix.zeros(n, n);
    for (const [i, a] of values.entries()) {
      for (const [j, b] of values.entries()) {
        const treatments = a.treatment === b.treatment ? TREATMENT_SD ** 2 : 0;
        const trays = a.tray === b.tray ? TRAY_SD ** 2 : 0;
        const plants = i === j ? plantSd ** 2 : 0;
        covariance.set(i, j, sd ** 2 + treatments + trays + plants);
      }
    }
    const factor = new CholeskyDecomposition(covariance);
    const inverse = factor.solve(Matrix.eye(n));
    const logRoot = factor.lowerTriangularMatrix
      .diagonal()
      .reduce((sum, root) => sum + Math.log(root), 0);
    const pulls = inverse.mmul(Matrix.columnVector(away)).to1DArray();
    const none = -logRoot - pulls.reduce((sum, u, i) => sum + u * (away[i] ?? NaN), 0) / 2;
    const slipped = pulls.map((u, i) =>
      SLIPS.map((d) => none + d * u - (d * d * inverse.get(i, i)) / 2),
    );
    return { none, slipped };
  });
  const most = Math.max(...weighed.flatMap(({ none, slipped }) => [none, ...slipped.flat()]));
  const chance = (logs: readonly number[]) =>
    logs.reduce((sum, log) => sum + Math.exp(log - most), 0);
  const ofNone = chance(weighed.map(({ none }) => none));
  const ofEach = away.map(
    (_, i) => SLIPPED * chance(weighed.flatMap(({ slipped }) => slipped[i] ?? [])),
  );
  const all = ofEach.reduce((sum, one) => sum + one, ofNone);
  return ofEach.map((one) => one / all);
}
