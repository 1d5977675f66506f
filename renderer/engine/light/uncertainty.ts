import type { Calibration } from './calibration';
import { alike, factored, METER, solved } from './calibration';
import { columnsOf, HEIGHT_MM, PATTERN, REFLECTED_PART, SINGLE_POT } from './errorParts';
import type { ShelfLight } from './shelfLight';
import type { PointMm } from './sources/direct';
import { num, real } from '../entry';
import { figure, plural, say, type UnitSystem } from '../../words';

/** How far a shelf's mean PPFD may be off, and what that rests on. */
export interface LightUncertainty {
  /** Half the interval that holds the true mean 95 times of 100; null where nothing can be said. */
  plusMinusPercent: number | null;
  reason: (lengths: UnitSystem) => string;
}

/** The ± of the mean of points, and of each by itself. */
export interface PointsUncertainty {
  mean: LightUncertainty;
  /** %; null for a point without light. */
  points: (number | null)[];
}

const SIGMAS = 1.96;
/** Common practice, no source: what a change of lamps or dimming may add to what is carried over it. */
const CHANGE = 0.05 / SIGMAS;
/** Of more points, this many stand for all where they are taken in pairs. */
const MOST_PAIRED = 250;

const silent = (words: string, count: number): PointsUncertainty => ({
  mean: { plusMinusPercent: null, reason: () => words },
  points: Array.from({ length: count }, () => null),
});

/**
 * How far the light at points, and their mean, may be off (95 %). The parts of `errorParts` and a smooth
 * pattern are the covariance Σ of the estimate; readings that are followed with weights W leave
 * Var = Σ₀₀ − 2 Wᵀ Σ₀ + Wᵀ Σ W (the error of any linear predictor; Rasmussen & Williams 2006, 2.5), Σ of the
 * readings with what they share: the meter's calibration, the conversion from lux, a change since.
 * Readings that agree less well than that allows widen it all (Birge 1932).
 */
export function uncertaintyOf(light: ShelfLight, points: readonly PointMm[]): PointsUncertainty {
  const ppfd = light.at(points);
  const sum = ppfd.reduce((total, value) => total + value, 0);
  if (points.length === 0 || !(sum > 0)) return silent('no pot is lit', points.length);
  const parts = light.partsAt(points);
  const columns = columnsOf(parts);
  const weights = ppfd.map((value) => value / sum);
  const { calibration } = light;
  const own = (i: number) => columns.reduce((total, column) => total + real(column, i) ** 2, 0);
  const pattern = Math.max(PATTERN / SIGMAS, calibration?.fit.sizes.surface ?? 0);
  const meanParts = columns.map((column) =>
    column.reduce((total, value, i) => total + value * real(weights, i), 0),
  );
  const meanOwn =
    meanParts.reduce((total, value) => total + value ** 2, 0) +
    pattern ** 2 * pairedAlike(light, points, weights);
  const followed = calibration ? followedBy(calibration, light, pattern) : null;
  const percent = (variance: number) =>
    100 * SIGMAS * Math.sqrt(Math.max(0, variance)) * (followed?.widened ?? 1);
  const perPoint = followed
    ? points.map((point, i) => {
        const shares = parts.shares.map((column) => real(column, i));
        return followed.at(
          point,
          shares,
          columns.map((column) => real(column, i)),
        );
      })
    : null;
  const ofPoint = (i: number) => {
    const prior = own(i) + pattern ** 2;
    const found = perPoint?.[i];
    const left = found && followed ? prior + followed.left(found) : prior;
    return real(ppfd, i) > 0 ? percent(left + (SINGLE_POT / SIGMAS) ** 2) : null;
  };
  const mean =
    perPoint && followed ? meanOwn + followed.left(averaged(perPoint, weights)) : meanOwn;
  return {
    mean: {
      plusMinusPercent: percent(mean),
      reason: calibration
        ? calibratedReason(light, calibration)
        : estimatedReason(light, meanParts),
    },
    points: points.map((_, i) => ofPoint(i)),
  };
}

/** How much points have the smooth pattern in common, all pairs by their weights. */
function pairedAlike({ sizeMm }: ShelfLight, points: readonly PointMm[], weights: Float64Array) {
  const each = Math.ceil(points.length / MOST_PAIRED);
  const some = points
    .map(({ xMm, yMm }, i) => ({
      x: xMm / sizeMm,
      y: yMm / sizeMm,
      shares: [],
      w: real(weights, i),
    }))
    .filter((_, i) => i % each === 0);
  const whole = some.reduce((total, { w }) => total + w, 0);
  let paired = 0;
  for (const a of some) for (const b of some) paired += a.w * b.w * alike(a, b);
  return whole > 0 ? paired / whole ** 2 : 1;
}

/** How a figure follows the readings: its weights on them, and what it has in common with each. */
interface Following {
  weights: Float64Array;
  common: Float64Array;
}

function averaged(each: readonly Following[], weights: Float64Array): Following {
  const n = each[0]?.weights.length ?? 0;
  const mean = (of: (one: Following) => Float64Array) =>
    Float64Array.from({ length: n }, (_, k) =>
      each.reduce((total, one, i) => total + real(weights, i) * real(of(one), k), 0),
    );
  return { weights: mean((one) => one.weights), common: mean((one) => one.common) };
}

function followedBy(calibration: Calibration, light: ShelfLight, pattern: number) {
  const { fit, places, shared, placeOf, carried } = calibration;
  const n = fit.samples.length;
  const columns = columnsOf(light.partsAt(places));
  const { single } = fit.sizes;
  const meter = Math.hypot(METER, carried || light.changed ? CHANGE : 0);
  // Readings among each other, row by row.
  const sigma = new Float64Array(n * n);
  fit.samples.forEach((a, i) => {
    fit.samples.forEach((b, j) => {
      const parts = columns.reduce((sum, column) => sum + real(column, i) * real(column, j), 0);
      const smooth = pattern ** 2 * alike(a, b);
      const together = meter ** 2 + num(shared, i) * num(shared, j);
      const alone = i === j ? Math.max(single, LEAST_SINGLE) ** 2 * (1 + a.dark ** 2) : 0;
      sigma[i * n + j] = parts + smooth + together + alone;
    });
  });
  const along = (w: Float64Array, i: number) => {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += real(sigma, i * n + j) * real(w, j);
    return sum;
  };
  return {
    widened: widenedBy(calibration, sigma),
    at: ({ xMm, yMm }: PointMm, shares: readonly number[], own: readonly number[]): Following => {
      const place = placeOf(xMm, yMm, shares);
      const common = Float64Array.from(fit.samples, (sample, i) => {
        const parts = columns.reduce((sum, column, k) => sum + real(column, i) * num(own, k), 0);
        return parts + pattern ** 2 * alike(sample, place);
      });
      return { weights: fit.weightsAt(place), common };
    },
    /** What following the readings adds to the variance of the estimate; mostly less than 0. */
    left: ({ weights, common }: Following) =>
      weights.reduce((sum, w, i) => sum + w * (along(weights, i) - 2 * real(common, i)), 0),
  };
}

/** A meter under good care does not repeat itself better than this. */
const LEAST_SINGLE = 0.01;

/** Birge's ratio beyond what chance gives 19 of 20 times; 1 where readings and estimate agree. */
function widenedBy({ fit }: Calibration, sigma: Float64Array): number {
  const n = fit.samples.length;
  const values = Float64Array.from(fit.samples, ({ value }) => value);
  const inverse = solved(
    factored(n, (i, j) => real(sigma, i * n + j)),
    values,
  );
  const square = values.reduce((sum, value, i) => sum + value * real(inverse, i), 0);
  // Wilson & Hilferty 1931: the 95th percentile of χ² with n df.
  const most = n * (1 - 2 / (9 * n) + 1.645 * Math.sqrt(2 / (9 * n))) ** 3;
  return Math.max(1, Math.sqrt(square / most));
}

const percentOf = (share: number) => figure(100 * share, 2);

function estimatedReason({ withheld }: ShelfLight, mean: readonly number[]) {
  const [output = 0, height = 0, reflected = 0, room = 0] = mean.map(
    (value) => SIGMAS * Math.abs(value),
  );
  return (lengths: UnitSystem) =>
    `${withheld ? 'readings not believed' : 'no readings'}; lamp output ±${percentOf(output)} %, ` +
    `${say('length', lengths, HEIGHT_MM)} of hanging height ±${percentOf(height)} %` +
    (reflected > 0
      ? `, reflected light (known within ${100 * REFLECTED_PART} %) ±${percentOf(reflected)} %`
      : '') +
    (room > 0 ? `, light of the room ±${percentOf(room)} %` : '');
}

function calibratedReason({ changed }: ShelfLight, { used, shared, carried }: Calibration) {
  const lux = SIGMAS * Math.max(0, ...shared);
  const since = carried || changed;
  return () =>
    `${plural(used, 'reading')}; all share the meter’s own error ±${percentOf(SIGMAS * METER)} %` +
    (lux > 0 ? `, the conversion from lux ±${percentOf(lux)} %` : '') +
    (since ? `, the change since ±${percentOf(SIGMAS * CHANGE)} %` : '') +
    '; the rest is what single readings and places between them leave open';
}
