import { entry, num, real } from '../../entry';
import { factored, inverseDiagonal, solved, type Factored } from './cholesky';

/** A reading as the regression sees it. */
export interface Sample {
  /** Place, in shares of the shelf's longer side. */
  x: number;
  y: number;
  /** What each lamp group gives of the estimate there; they add up to 1. */
  shares: readonly number[];
  /** Measured over estimated, less 1. */
  value: number;
  /** Error of a reading there in shares of one where it is brightest, added in squares: light of the room. */
  dark: number;
}

/** Standard deviations of what may make readings differ from the estimate, as shares of it. */
export interface Sizes {
  /** Of all lamps together: what is known of the estimate. */
  common: number;
  /** Of one lamp group against the others. */
  group: number;
  /** Of what changes smoothly over the shelf. */
  surface: number;
  /** Of a single reading. */
  single: number;
}

/** Where something is known of a place: a point, or a reading. */
export type SamplePlace = Pick<Sample, 'x' | 'y' | 'shares'>;

export interface Regression {
  samples: readonly Sample[];
  sizes: Sizes;
  /** Factor on each lamp group, by its place in the list. */
  scales: number[];
  /** What the smooth part adds to 1 at a place, on top of the groups' factors. */
  surfaceAt: (x: number, y: number) => number;
  /** Each reading as the others and what was known beforehand expect it, with its deviation. */
  leftOut: () => { expected: number; deviation: number }[];
  /** By how much the figure at a place follows each reading. */
  weightsAt: (place: SamplePlace) => Float64Array;
  /** Standard deviation of the fitted share at a place, by the sizes chosen. */
  deviationAt: (place: SamplePlace) => number;
}

/** How far what changes smoothly is alike, as a share of the shelf's longer side. */
const ALIKE = 0.35;
/** Fewer readings than this say nothing of how large the parts are. */
const FEWEST_TO_CHOOSE = 6;
/** By so many readings the sizes are chosen, where there are more. */
const MOST_TO_CHOOSE = 64;
// A size is changed where the readings speak for it 7 to 1 (e²) for each step.
const STEP_COST = 2;

/** Common practice, no source: place and level of the sensor, its directional error, a repeat. */
export const SINGLE_READING = 0.025;
const LADDERS = {
  group: [0, 0.04, 0.1, 0.4],
  surface: [0, 0.06, 0.15],
  single: [SINGLE_READING, 0.05, 0.08, 0.012, 0.003],
};
const steps = (ladder: readonly number[], i: number) =>
  ladder === LADDERS.single && i > 2 ? i - 2 : i;

export const alike = (a: SamplePlace, b: SamplePlace) =>
  Math.exp(-((a.x - b.x) ** 2 + (a.y - b.y) ** 2) / (2 * ALIKE * ALIKE));

const sharesAlike = (a: SamplePlace, b: SamplePlace) =>
  a.shares.reduce((sum, share, g) => sum + share * num(b.shares, g), 0);

function covariance(a: SamplePlace, b: SamplePlace, sizes: Sizes): number {
  const groups = sizes.group > 0 ? sizes.group ** 2 * sharesAlike(a, b) : 0;
  const surface = sizes.surface > 0 ? sizes.surface ** 2 * alike(a, b) : 0;
  return sizes.common ** 2 + groups + surface;
}

function factoredFor(samples: readonly Sample[], sizes: Sizes): Factored {
  return factored(samples.length, (i, j) => {
    const [a, b] = [samples[i], samples[j]];
    if (!a || !b) return 0;
    return covariance(a, b, sizes) + (i === j ? sizes.single ** 2 * (1 + a.dark ** 2) : 0);
  });
}

const valuesOf = (samples: readonly Sample[]) => Float64Array.from(samples, ({ value }) => value);

function logEvidence(samples: readonly Sample[], sizes: Sizes): number {
  const matrix = factoredFor(samples, sizes);
  const values = valuesOf(samples);
  const alpha = solved(matrix, values);
  const square = values.reduce((sum, value, i) => sum + value * real(alpha, i), 0);
  return -(square + matrix.logDeterminant) / 2;
}

/**
 * The sizes that the readings speak for: empirical Bayes, the largest marginal likelihood (Rasmussen &
 * Williams 2006, eq. 5.8) over short ladders, each step from the usual sizes at a cost, so that few
 * readings leave them as they are.
 */
function chosenSizes(samples: readonly Sample[], common: number): Sizes {
  const usual = { common, group: 0, surface: 0, single: SINGLE_READING };
  if (samples.length < FEWEST_TO_CHOOSE) return usual;
  const each = Math.ceil(samples.length / MOST_TO_CHOOSE);
  const some = samples.filter((_, i) => i % each === 0);
  const groups = (some[0]?.shares.length ?? 0) > 1 ? LADDERS.group : LADDERS.group.slice(0, 1);
  let best = usual;
  let most = -Infinity;
  groups.forEach((group, g) => {
    LADDERS.surface.forEach((surface, s) => {
      LADDERS.single.forEach((single, k) => {
        const sizes = { common, group, surface, single };
        const cost = STEP_COST * (g + s + steps(LADDERS.single, k));
        const found = logEvidence(some, sizes) - cost;
        if (found > most) [best, most] = [sizes, found];
      });
    });
  });
  return best;
}

/**
 * Bayesian linear regression (ridge; Hoerl & Kennard 1970, Lindley & Smith 1972) of readings on the
 * estimate: relative deviation = common + share of each group × its own + smooth surface + error, each
 * part normal about 0. One reading moves the estimate by common² / (common² + single²) of what it is
 * off; of many the result is that of least squares. Away from readings the surface returns to 0.
 */
export function regression(samples: readonly Sample[], common: number): Regression {
  const sizes = chosenSizes(samples, common);
  const matrix = factoredFor(samples, sizes);
  const alpha = solved(matrix, valuesOf(samples));
  const weighted = (of: (sample: Sample) => number) =>
    samples.reduce((sum, sample, i) => sum + of(sample) * real(alpha, i), 0);
  const level = sizes.common ** 2 * weighted(() => 1);
  const groups = samples[0]?.shares ?? [];
  const scales = groups.map((_, g) => {
    const own = sizes.group > 0 ? sizes.group ** 2 * weighted(({ shares }) => num(shares, g)) : 0;
    return Math.max(0, 1 + level + own);
  });
  const weightsAt = (place: SamplePlace) =>
    solved(
      matrix,
      Float64Array.from(samples, (sample) => covariance(sample, place, sizes)),
    );
  const surfaceAt = (x: number, y: number) =>
    sizes.surface > 0
      ? sizes.surface ** 2 * weighted((sample) => alike(sample, { x, y, shares: [] }))
      : 0;
  return {
    samples,
    sizes,
    scales,
    surfaceAt,
    // Left out in closed form (Rasmussen & Williams 2006, eq. 5.12).
    leftOut: () => {
      const diagonal = inverseDiagonal(matrix);
      return samples.map(({ value }, i) => ({
        expected: value - real(alpha, i) / real(diagonal, i),
        deviation: 1 / Math.sqrt(real(diagonal, i)),
      }));
    },
    weightsAt,
    deviationAt: (place) => {
      const followed = weightsAt(place).reduce(
        (sum, weight, i) => sum + weight * covariance(entry(samples, i), place, sizes),
        0,
      );
      return Math.sqrt(Math.max(0, covariance(place, place, sizes) - followed));
    },
  };
}
