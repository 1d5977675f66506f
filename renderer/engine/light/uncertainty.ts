import { alike } from './calibration';
import { columnsOf, PATTERN, SINGLE_POT } from './errorParts';
import { averaged, followedBy, type Unknown } from './followed';
import { deviationOf, halfInterval } from './range';
import type { ShelfLight } from './shelfLight';
import type { PointMm } from './sources/direct';
import { calibratedReason, estimatedReason } from './uncertaintyWords';
import { real } from '../entry';
import type { UnitSystem } from '../../words';

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

/** Of more points, this many stand for all where they are taken in pairs. */
const MOST_PAIRED = 250;

const silent = (words: string, count: number): PointsUncertainty => ({
  mean: { plusMinusPercent: null, reason: () => words },
  points: Array.from({ length: count }, () => null),
});

/**
 * How far the light at points, and their mean, may be off (95 %): by the parts of `errorParts`, by a
 * smooth pattern and at single pots; with readings, by what following them leaves of that and by what
 * they share: the meter's calibration, the conversion from lux, a change since. Readings that agree less
 * well than that allows widen it all (Birge 1932).
 */
export function uncertaintyOf(light: ShelfLight, points: readonly PointMm[]): PointsUncertainty {
  const ppfd = light.at(points);
  const sum = ppfd.reduce((total, value) => total + value, 0);
  if (points.length === 0 || !(sum > 0)) return silent('no pot is lit', points.length);
  const parts = light.partsAt(points);
  const columns = columnsOf(parts);
  const weights = ppfd.map((value) => value / sum);
  const { calibration } = light;
  const pattern = Math.max(deviationOf(PATTERN), calibration?.fit.sizes.surface ?? 0);
  const followed = calibration ? followedBy(calibration, light, pattern) : null;
  const following = points.map((point, i) =>
    followed?.at(
      point,
      parts.shares.map((column) => real(column, i)),
    ),
  );
  const unknown = (own: readonly number[], alikeItself: number, by = following[0]): Unknown =>
    followed && by
      ? followed.left(by, own, alikeItself)
      : { ranges: own, rest: pattern ** 2 * alikeItself };
  const percent = ({ ranges, rest }: Unknown) =>
    100 * halfInterval(ranges, rest) * (followed?.widened ?? 1);
  const ofPoint = (i: number) => {
    const own = columns.map((column) => real(column, i));
    const { ranges, rest } = unknown(own, 1, following[i]);
    return percent({ ranges, rest: rest + deviationOf(SINGLE_POT) ** 2 });
  };
  const meanParts = columns.map((column) =>
    column.reduce((total, value, i) => total + value * real(weights, i), 0),
  );
  const each = following.flatMap((one) => one ?? []);
  const ofMean = unknown(
    meanParts,
    pairedAlike(light, points, weights),
    followed ? averaged(each, weights) : undefined,
  );
  return {
    mean: {
      plusMinusPercent: percent(ofMean),
      reason: calibration
        ? calibratedReason(light, calibration)
        : estimatedReason(light, meanParts),
    },
    points: points.map((_, i) => (real(ppfd, i) > 0 ? ofPoint(i) : null)),
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
