import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { potsOfTray } from '../../geometry';
import type { PointMm } from '../direct';
import { evenness, type Evenness } from '../evenness';
import { shelfGrid } from '../field';
import { shelfModel } from '../model';
import { rowOf, rowResponse, shelfWith } from './response';
import { searchPlaces } from './search';

export interface ArrangeLimits {
  /** Height of the emitting faces above the shelf's surface. */
  lowestMm: number;
  highestMm: number;
  /** From a row's middle to the front and back of the shelf, at least. */
  fromSidesMm: number;
  /** From one row's middle to the next, at least. */
  apartMm: number;
}

export interface ArrangeRequest {
  shelf: Shelf;
  lampKinds: readonly LampKind[];
  /** The kind to hang, and how many; they lie along x in rows of `perRow` (1 unless given). */
  kind: LampKind;
  count: number;
  perRow?: number;
  /** µmol m⁻² s⁻¹ over the pots. */
  targetMeanUmol: number;
  /** Canopy height above the shelf's surface. */
  heightMm: number;
  reflected?: boolean;
  limits: ArrangeLimits;
}

/** Lamps as they hang or could hang, and what the pots get. */
export interface Arrangement {
  lamps: Omit<Lamp, 'id'>[];
  evenness: Evenness;
  /** Whether the mean is the target (within 1 %). */
  meetsTarget: boolean;
}

export interface ArrangeAnswer {
  /** The lamps that hang there now, as they are; null where there are none. */
  before: Arrangement | null;
  after: Arrangement;
  /** The same lamps equally spaced, at the height where that is best. */
  equallySpaced: Arrangement;
  /** Whether the figures are over pots or, where the shelf has none, over the canopy. */
  over: 'pots' | 'canopy';
}

const CANOPY_GRID_MM = 50;
const HEIGHTS = 7;
const TARGET_WITHIN = 0.01;

/** Pots that are analysed, or all where every pot is a guard, or the canopy where there are none. */
function judgedPoints(
  shelf: Shelf,
  heightMm: number,
): { over: 'pots' | 'canopy'; points: PointMm[] } {
  const pots = shelf.trays.flatMap((tray) => potsOfTray(shelf, tray));
  const analysed = pots.filter((pot) => !pot.guard);
  const chosen = analysed.length > 0 ? analysed : pots;
  if (chosen.length === 0) {
    return { over: 'canopy', points: shelfGrid(shelf, heightMm, CANOPY_GRID_MM).points };
  }
  const points = chosen.map(({ xMm, yMm }) => ({ xMm, yMm, zMm: heightMm }));
  return { over: 'pots', points };
}

function checked(request: ArrangeRequest): { rows: number; perRow: number } {
  const { shelf, count, targetMeanUmol, heightMm, limits } = request;
  const perRow = request.perRow ?? 1;
  const rows = count / perRow;
  if (!(Number.isInteger(perRow) && perRow >= 1 && Number.isInteger(rows) && rows >= 1)) {
    throw new Error(`${count} lamps in rows of ${perRow}: whole rows of at least one are expected`);
  }
  if (!(targetMeanUmol > 0)) throw new Error(`target ${targetMeanUmol}: more than 0 is expected`);
  if (!(limits.lowestMm > heightMm && limits.highestMm >= limits.lowestMm)) {
    throw new Error(
      `lamps between ${limits.lowestMm} and ${limits.highestMm} mm over a canopy at ${heightMm} mm: ` +
        `heights above the canopy, the lowest first, are expected`,
    );
  }
  const room = shelf.depthMm - 2 * limits.fromSidesMm;
  if (room < (rows - 1) * limits.apartMm || room < 0) {
    throw new Error(
      `${rows} rows ${limits.apartMm} mm apart in ${room} mm of depth: they do not fit; fewer rows ` +
        `or narrower limits are expected`,
    );
  }
  return { rows, perRow };
}

/**
 * Finds places, height and dimming of equal lamps that give the target mean over the pots at the
 * best min:mean. Rows lie along x and may be spaced unequally, so that an open or a white side is
 * made up for. All lamps are dimmed alike: dimming moves the mean and leaves min:mean alone. Where
 * the target cannot be reached the brightest height is taken at full output. Lamps of the same kind
 * and number that hang within the limits already are kept, dimmed to the target, unless better is
 * found. Throws on limits that cannot be met.
 */
export function arrange(request: ArrangeRequest): ArrangeAnswer {
  const { shelf, kind, lampKinds, heightMm, limits, targetMeanUmol, reflected = true } = request;
  const { rows, perRow } = checked(request);
  const { over, points } = judgedPoints(shelf, heightMm);
  const model = { heightMm, reflected };
  const range = { fromMm: limits.fromSidesMm, toMm: shelf.depthMm - limits.fromSidesMm };
  const judge = (lamps: Omit<Lamp, 'id'>[], kinds: readonly LampKind[] = [kind]): Arrangement => {
    const found = evenness(shelfModel(shelfWith(shelf, lamps), kinds, model).at(points));
    const meetsTarget = Math.abs(found.mean / targetMeanUmol - 1) <= TARGET_WITHIN;
    return { lamps, evenness: found, meetsTarget };
  };
  const candidate = (places: readonly number[], zMm: number) =>
    dimmedToTarget(
      judge(places.flatMap((yMm) => rowOf(shelf, kind, { yMm, zMm, perRow, dimming: 1 }))),
      targetMeanUmol,
      judge,
    );
  const equal = Array.from({ length: rows }, (_, i) => (shelf.depthMm * (i + 0.5)) / rows);
  const inside = equal.map((place) => Math.min(range.toMm, Math.max(range.fromMm, place)));
  const wide = inside.map((_, i) =>
    rows === 1
      ? (range.fromMm + range.toMm) / 2
      : range.fromMm + (i * (range.toMm - range.fromMm)) / (rows - 1),
  );
  let after: Arrangement | null = null;
  let equallySpaced: Arrangement | null = null;
  for (const zMm of heightsBetween(limits.lowestMm, limits.highestMm)) {
    const response = rowResponse(shelf, kind, { ...model, zMm, perRow }, points, range);
    const starts = spacedEnough(inside, limits.apartMm) ? [inside, wide] : [wide];
    const places = searchPlaces(response, starts, { ...range, apartMm: limits.apartMm });
    const evenly = candidate(equal, zMm);
    equallySpaced = better(equallySpaced, evenly);
    after = better(after, candidate(places, zMm));
    if (spacedEnough(equal, limits.apartMm) && equal.every((y, i) => y === inside[i])) {
      after = better(after, evenly);
    }
  }
  const before = shelf.lamps.length > 0 ? judge(shelf.lamps.map(withoutId), lampKinds) : null;
  if (before && comparable(shelf.lamps, request)) {
    after = better(dimmedToTarget(before, targetMeanUmol, judge), after);
  }
  if (!after || !equallySpaced) throw new Error('no height to try: at least one is expected');
  return { before, after, equallySpaced, over };
}

function withoutId(lamp: Lamp): Omit<Lamp, 'id'> {
  const { kindId, xMm, yMm, zMm, rotationDeg, tiltDeg, dimming, group } = lamp;
  return { kindId, xMm, yMm, zMm, rotationDeg, tiltDeg, dimming, group };
}

function heightsBetween(lowestMm: number, highestMm: number): number[] {
  if (highestMm === lowestMm) return [lowestMm];
  return Array.from(
    { length: HEIGHTS },
    (_, i) => lowestMm + (i * (highestMm - lowestMm)) / (HEIGHTS - 1),
  );
}

function spacedEnough(places: readonly number[], apartMm: number): boolean {
  return places.every((place, i) => i === 0 || place - (places[i - 1] ?? 0) >= apartMm);
}

/** Meeting the target comes first, then evenness; short of it the brighter one. Ties: the first. */
function better(a: Arrangement | null, b: Arrangement | null): Arrangement | null {
  if (!a || !b) return a ?? b;
  if (a.meetsTarget !== b.meetsTarget) return a.meetsTarget ? a : b;
  if (!a.meetsTarget) return b.evenness.mean > a.evenness.mean ? b : a;
  return (b.evenness.minToMean ?? 0) > (a.evenness.minToMean ?? 0) ? b : a;
}

/** All lamps dimmed or turned up alike, as far as the brightest of them can go. */
function dimmedToTarget(
  given: Arrangement,
  targetMeanUmol: number,
  judge: (lamps: Omit<Lamp, 'id'>[]) => Arrangement,
): Arrangement {
  const brightest = Math.max(...given.lamps.map((lamp) => lamp.dimming));
  if (!(brightest > 0 && given.evenness.mean > 0)) return given;
  const factor = Math.min(targetMeanUmol / given.evenness.mean, 1 / brightest);
  return judge(given.lamps.map((lamp) => ({ ...lamp, dimming: lamp.dimming * factor })));
}

function comparable(
  lamps: readonly Lamp[],
  { shelf, kind, count, limits }: ArrangeRequest,
): boolean {
  return (
    lamps.length === count &&
    lamps.every(
      (lamp) =>
        lamp.kindId === kind.id &&
        lamp.zMm >= limits.lowestMm &&
        lamp.zMm <= limits.highestMm &&
        lamp.yMm >= limits.fromSidesMm &&
        lamp.yMm <= shelf.depthMm - limits.fromSidesMm,
    )
  );
}
