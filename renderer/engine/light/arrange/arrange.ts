import type { LightReading } from '../../../../shared-types/light';
import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { isParted, potsOfTray } from '../../geometry';
import { scaleIn, type GroupScale } from '../calibration';
import type { PointMm } from '../sources/direct';
import { evenness, type Evenness } from '../evenness';
import { shelfGrid } from '../field';
import { shelfModel } from '../model';
import { photonFlux } from '../../lamps';
import { shelfLight } from '../shelfLight';
import { rowResponse } from './response';
import { lampsOfRow, rowPlans, shelfWith, type RowLimits, type RowPlan } from './rows';
import { searchPlaces, searchShares } from './search';
import { say, type UnitSystem, Refusal } from '../../../words';
import { num } from '../../entry';

export interface ArrangeLimits extends RowLimits {
  /** Clearance kept between the emitting faces and the canopy, grown as it is at harvest. */
  aboveCanopyMm: number;
  /** Height of the emitting faces above the shelf's surface, at most. */
  highestMm: number;
}

export interface ArrangeRequest {
  shelf: Shelf;
  lampKinds: readonly LampKind[];
  /** The kind to hang, and how many. */
  kind: LampKind;
  count: number;
  /** Rows along x of so many; unless given, rows along x and y of any number are tried. */
  perRow?: number;
  /** Whether each row has a dimmer of its own; else all lamps are dimmed alike. */
  ownDimming?: boolean;
  /** µmol m⁻² s⁻¹ over the pots. */
  targetMeanUmol: number;
  /** Canopy height at which the light is judged, above the shelf's surface. */
  heightMm: number;
  reflected?: boolean;
  /** Meter readings, so that lamps are taken for what they give and not for what they should. */
  readings?: readonly LightReading[];
  limits: ArrangeLimits;
  /** In what the person reads lengths. */
  lengths?: UnitSystem;
}

/** Lamps as they hang or could hang, and what the pots get. */
export interface Arrangement {
  lamps: Omit<Lamp, 'id'>[];
  evenness: Evenness;
  /** What readings say that the lamps give, by group; none where they say nothing. */
  scales: readonly GroupScale[];
  /** Whether the mean is the target (within 1 %). */
  meetsTarget: boolean;
}

export interface ArrangeAnswer {
  /** The lamps that hang there now, as they are; null where there are none. */
  before: Arrangement | null;
  after: Arrangement;
  /** The same lamps equally spaced and dimmed alike, at the height where that is best. */
  equallySpaced: Arrangement;
  /** Whether the figures are over pots or, where the shelf has none, over the canopy. */
  over: 'pots' | 'canopy';
}

const CANOPY_GRID_MM = 50;
const HEIGHTS = 7;
const TARGET_WITHIN = 0.01;
// Ways of laying rows that are looked into after a glance at all.
const MOST_PLANS = 3;
// What dimmers of their own must gain in min:mean to be worth setting.
const WORTH_DIMMING = 0.01;

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

/** Lowest height of the emitting faces: over the canopy now and at harvest, with clearance. */
function lowestOf({ shelf, heightMm, limits }: ArrangeRequest): number {
  return Math.max(heightMm, shelf.canopy.harvestMm) + limits.aboveCanopyMm;
}

function checked(request: ArrangeRequest): RowPlan[] {
  const { shelf, kind, count, perRow, targetMeanUmol, limits, lengths = 'metric' } = request;
  const length = (mm: number) => say('length', lengths, mm);
  if (isParted(shelf)) {
    throw new Refusal(
      `shelf ${shelf.number} is parted by boards: whole shelves are arranged; hang the lamps of each bay by hand`,
    );
  }
  const rows = count / (perRow ?? 1);
  if (!(Number.isInteger(count) && Number.isInteger(rows) && rows >= 1)) {
    const each = perRow === undefined ? '' : ` in rows of ${perRow}`;
    throw new Refusal(`${count} lamps${each}: whole rows of at least one are expected`);
  }
  if (!(targetMeanUmol > 0)) throw new Refusal(`target ${targetMeanUmol}: more than 0 is expected`);
  const lowestMm = lowestOf(request);
  if (!(limits.aboveCanopyMm > 0 && limits.highestMm >= lowestMm)) {
    const canopyMm = lowestMm - limits.aboveCanopyMm;
    throw new Refusal(
      `lamps ${length(limits.aboveCanopyMm)} above a canopy of ${length(canopyMm)} and at most ` +
        `${length(limits.highestMm)} high: heights above the grown canopy are expected; less ` +
        `clearance, lower plants or more room above would give some`,
    );
  }
  const plans = rowPlans(shelf, kind, count, limits, perRow);
  if (plans.length === 0) {
    throw new Refusal(
      `${count} lamps in rows ${length(limits.apartMm)} apart and ${length(limits.fromSidesMm)} ` +
        `from the sides of a shelf of ${length(shelf.widthMm)} × ${length(shelf.depthMm)}: they ` +
        `do not fit; fewer lamps or narrower limits are expected`,
    );
  }
  return plans;
}

/**
 * Finds places, height and dimming of equal lamps that give the target mean over the pots at the
 * best min:mean. Rows lie along x or y and may be spaced unequally, and dimmed each by itself where
 * that is allowed and gains something, so that an open or a white side is made up for. Where the
 * target cannot be reached the brightest height is taken at full output. Lamps of the same kind and
 * number that hang within the limits already are kept, dimmed to the target, unless better is
 * found. `tell` hears how far it has come. Throws on limits that cannot be met.
 */
export function arrange(
  request: ArrangeRequest,
  tell: (done: number, total: number) => void = () => undefined,
): ArrangeAnswer {
  const { shelf, kind, lampKinds, heightMm, limits, targetMeanUmol, reflected = true } = request;
  const possible = checked(request);
  const { over, points } = judgedPoints(shelf, heightMm);
  const model = { heightMm, reflected };
  const hangs = scalesNow(request);
  const tried = scalesTried(request, hangs);
  const judge = (lamps: Omit<Lamp, 'id'>[], kinds = [kind], scales = tried): Arrangement => {
    const light = shelfModel(shelfWith(shelf, lamps), kinds, model);
    const found = evenness(light.at(points, scaleIn(scales)));
    const meetsTarget = Math.abs(found.mean / targetMeanUmol - 1) <= TARGET_WITHIN;
    return { lamps, evenness: found, scales, meetsTarget };
  };
  const hung = (plan: RowPlan, places: readonly number[], zMm: number, shares?: number[]) =>
    dimmedToTarget(
      judge(
        places.flatMap((placeMm, i) =>
          lampsOfRow(shelf, kind, plan, { placeMm, zMm, dimming: shares?.[i] ?? 1 }),
        ),
      ),
      targetMeanUmol,
      judge,
    );
  const heights = heightsBetween(lowestOf(request), limits.highestMm);
  const middle = heights[heights.length >> 1] ?? limits.highestMm;
  const plans = possible
    .map((plan) => ({ plan, glance: hung(plan, insideOf(plan, shelf), middle) }))
    .sort((a, b) => (b.glance === better(a.glance, b.glance) ? 1 : -1))
    .slice(0, MOST_PLANS)
    .map(({ plan }) => plan);
  let after: Arrangement | null = null;
  let equallySpaced: Arrangement | null = null;
  let done = 0;
  for (const plan of plans) {
    const equal = equalPlaces(plan, shelf);
    const inside = insideOf(plan, shelf);
    const wide = inside.map((_, i) =>
      plan.rows === 1
        ? (plan.fromMm + plan.toMm) / 2
        : plan.fromMm + (i * (plan.toMm - plan.fromMm)) / (plan.rows - 1),
    );
    const starts = spacedEnough(inside, plan.apartMm) ? [inside, wide] : [wide];
    for (const zMm of heights) {
      tell(done++, plans.length * heights.length);
      const response = rowResponse(shelf, kind, plan, { ...model, zMm }, points);
      const places = searchPlaces(response, starts, plan);
      const alike = hung(plan, places, zMm);
      const evenly = hung(plan, equal, zMm);
      equallySpaced = better(equallySpaced, evenly);
      after = better(after, alike);
      if (spacedEnough(equal, plan.apartMm) && equal.every((place, i) => place === inside[i])) {
        after = better(after, evenly);
      }
      if (request.ownDimming !== true || plan.rows === 1) continue;
      const first = searchShares(response, places);
      const moved = searchPlaces(response, [places], plan, first);
      after = betterByMuch(after, hung(plan, moved, zMm, searchShares(response, moved)));
    }
  }
  const asHung = (lamps: Omit<Lamp, 'id'>[]) => judge(lamps, [...lampKinds], hangs);
  const before = shelf.lamps.length > 0 ? asHung(shelf.lamps.map(withoutId)) : null;
  if (before && comparable(shelf.lamps, request)) {
    after = better(dimmedToTarget(before, targetMeanUmol, asHung), after);
  }
  if (!after || !equallySpaced) throw new Refusal('no height to try: at least one is expected');
  return { before, after, equallySpaced, over };
}

/** What the readings make of the lamps that hang there; none where no reading holds. */
function scalesNow({ shelf, lampKinds, readings = [], ...rest }: ArrangeRequest) {
  if (!readings.some(({ shelfId }) => shelfId === shelf.id)) return [];
  const { heightMm, reflected = true } = rest;
  const light = shelfLight(shelf, lampKinds, { heightMm, reflected, readings });
  return light.calibration?.scales ?? [];
}

/**
 * What new places may expect of lamps of the kind: what those of it that hang there give, by their
 * flux. Proposed lamps are of no group.
 */
function scalesTried(
  { shelf, kind }: ArrangeRequest,
  hangs: readonly GroupScale[],
): readonly GroupScale[] {
  const scaleOf = scaleIn(hangs);
  let stated = 0;
  let given = 0;
  for (const { kindId, dimming, group } of shelf.lamps) {
    if (kindId !== kind.id) continue;
    const { umolS } = photonFlux(kind, dimming);
    stated += umolS;
    given += umolS * scaleOf(group);
  }
  return hangs.length > 0 && given > 0 ? [{ group: '', scale: given / stated }] : [];
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

function equalPlaces({ along, rows }: RowPlan, shelf: Shelf): number[] {
  const span = along === 'x' ? shelf.depthMm : shelf.widthMm;
  return Array.from({ length: rows }, (_, i) => (span * (i + 0.5)) / rows);
}

/** Equal places moved in from the sides as far as they must. */
function insideOf(plan: RowPlan, shelf: Shelf): number[] {
  return equalPlaces(plan, shelf).map((place) => Math.min(plan.toMm, Math.max(plan.fromMm, place)));
}

function spacedEnough(places: readonly number[], apartMm: number): boolean {
  return places.every((place, i) => i === 0 || place - num(places, i - 1) >= apartMm);
}

/** Meeting the target comes first, then evenness; short of it the brighter one. Ties: the first. */
function better(a: Arrangement | null, b: Arrangement): Arrangement;
function better(a: Arrangement, b: Arrangement | null): Arrangement;
function better(a: Arrangement | null, b: Arrangement | null): Arrangement | null {
  if (!a || !b) return a ?? b;
  if (a.meetsTarget !== b.meetsTarget) return a.meetsTarget ? a : b;
  if (!a.meetsTarget) return b.evenness.mean > a.evenness.mean ? b : a;
  return (b.evenness.minToMean ?? 0) > (a.evenness.minToMean ?? 0) ? b : a;
}

/** Rows each dimmed by itself, taken where they gain enough over lamps dimmed alike. */
function betterByMuch(alike: Arrangement, own: Arrangement): Arrangement {
  if (!own.meetsTarget) return alike;
  const gain = (own.evenness.minToMean ?? 0) - (alike.evenness.minToMean ?? 0);
  const wasOwn = new Set(alike.lamps.map((lamp) => lamp.dimming)).size > 1;
  return !alike.meetsTarget || gain > (wasOwn ? 0 : WORTH_DIMMING) ? own : alike;
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

function comparable(lamps: readonly Lamp[], request: ArrangeRequest): boolean {
  const { shelf, kind, count, limits } = request;
  const lowestMm = lowestOf(request);
  const within = (place: number, span: number) =>
    place >= limits.fromSidesMm && place <= span - limits.fromSidesMm;
  return (
    lamps.length === count &&
    lamps.every((lamp) => {
      const level = lamp.rotationDeg % 180 === 0;
      return (
        lamp.kindId === kind.id &&
        lamp.zMm >= lowestMm &&
        lamp.zMm <= limits.highestMm &&
        (level ? within(lamp.yMm, shelf.depthMm) : within(lamp.xMm, shelf.widthMm))
      );
    })
  );
}
