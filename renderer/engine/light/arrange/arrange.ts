import type { Lamp } from '../../../../shared-types/rack';
import { better, betterByMuch, type Arrangement } from './arrangement';
import { dimmedToTarget, judgeOf, kindsTried, scalesNow, scalesTried, type Judged } from './judge';
import {
  equalPlaces,
  insideOf,
  lowestOf,
  plansFor,
  spacedEnough,
  wideOf,
  type ArrangeRequest,
} from './request';
import { rowResponse } from './response';
import { lampsOfRow, type RowPlan } from './rows';
import { searchPlaces, searchShares } from './search';
import { arrangeSiteOf, asWorn, type ArrangeSite } from './site';
import { Refusal } from '../../../words';

export interface ArrangeAnswer {
  /** The lamps that hang there now, as they are; null where there are none. */
  before: Arrangement | null;
  after: Arrangement;
  /** The same lamps equally spaced and dimmed alike, at the height where that is best. */
  equallySpaced: Arrangement;
  over: ArrangeSite['over'];
}

const HEIGHTS = 7;
// Ways of laying rows that are looked into after a glance at all.
const MOST_PLANS = 3;

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
  const { kind, lampKinds, limits, targetMeanUmol, reflected = true } = request;
  if (!(targetMeanUmol > 0)) throw new Refusal(`target ${targetMeanUmol}: more than 0 is expected`);
  const site = arrangeSiteOf(request);
  const possible = plansFor(request, site);
  const hangs = scalesNow(request, site);
  const tried = scalesTried(request, site, hangs);
  const kinds = kindsTried(request);
  const judged = judgeOf(site, reflected, targetMeanUmol);
  const judge = (lamps: Omit<Lamp, 'id'>[]) => judged(asWorn(lamps, site), kinds, tried);
  const hung: Hung = (plan, places, zMm, shares) =>
    dimmedToTarget(
      judge(
        places.flatMap((placeMm, i) =>
          lampsOfRow(site.rect, kind, plan, { placeMm, zMm, dimming: shares?.[i] ?? 1 }),
        ),
      ),
      targetMeanUmol,
    );
  const heights = heightsBetween(lowestOf(site, limits), limits.highestMm);
  const middle = heights[heights.length >> 1] ?? limits.highestMm;
  const plans = possible
    .map((plan) => ({ plan, glance: hung(plan, insideOf(plan, site), middle) }))
    .sort((a, b) => (b.glance === better(a.glance, b.glance) ? 1 : -1))
    .slice(0, MOST_PLANS)
    .map(({ plan }) => plan);
  let after: Judged | null = null;
  let equallySpaced: Judged | null = null;
  let done = 0;
  for (const plan of plans) {
    for (const zMm of heights) {
      tell(done++, plans.length * heights.length);
      const found = rowsAt(request, site, hung, plan, zMm);
      equallySpaced = better(equallySpaced, found.equal);
      for (const alike of found.alike) after = better(after, alike);
      if (after && found.ownDimming) after = betterByMuch(after, found.ownDimming);
    }
  }
  const before = site.hung.length > 0 ? judged(site.hung.map(withoutId), lampKinds, hangs) : null;
  if (before && comparable(site, request)) {
    after = better(dimmedToTarget(before, targetMeanUmol), after);
  }
  if (!after || !equallySpaced) throw new Refusal('no height to try: at least one is expected');
  return {
    before: before && arrangementOf(before),
    after: arrangementOf(after),
    equallySpaced: arrangementOf(equallySpaced),
    over: site.over,
  };
}

type Hung = (plan: RowPlan, places: readonly number[], zMm: number, shares?: number[]) => Judged;

/** The most even rows that a search from equal and from wide places finds at one height. */
function rowsAt(
  request: ArrangeRequest,
  site: ArrangeSite,
  hung: Hung,
  plan: RowPlan,
  zMm: number,
): { equal: Judged; alike: Judged[]; ownDimming: Judged | null } {
  const { reflected = true } = request;
  const places = equalPlaces(plan, site);
  const inside = insideOf(plan, site);
  const starts = spacedEnough(inside, plan.apartMm) ? [inside, wideOf(plan)] : [wideOf(plan)];
  const model = { heightMm: site.heightMm, reflected, zMm };
  const response = rowResponse(site, kindsTried(request), plan, model);
  const best = searchPlaces(response, starts, plan);
  const equal = hung(plan, places, zMm);
  const mayBeEqual =
    spacedEnough(places, plan.apartMm) && places.every((place, i) => place === inside[i]);
  const alike = [hung(plan, best, zMm), ...(mayBeEqual ? [equal] : [])];
  if (request.ownDimming !== true || plan.rows === 1) return { equal, alike, ownDimming: null };
  const moved = searchPlaces(response, [best], plan, searchShares(response, best));
  const ownDimming = hung(plan, moved, zMm, searchShares(response, moved));
  return { equal, alike, ownDimming };
}

const arrangementOf = ({ lamps, evenness, scales, meetsTarget }: Judged): Arrangement => ({
  lamps,
  evenness,
  scales,
  meetsTarget,
});

function withoutId({ id: _, ...lamp }: Lamp): Omit<Lamp, 'id'> {
  return lamp;
}

function heightsBetween(lowestMm: number, highestMm: number): number[] {
  if (highestMm === lowestMm) return [lowestMm];
  return Array.from(
    { length: HEIGHTS },
    (_, i) => lowestMm + (i * (highestMm - lowestMm)) / (HEIGHTS - 1),
  );
}

/** Whether what hangs in the bay could have been proposed. */
function comparable(site: ArrangeSite, { kind, count, limits }: ArrangeRequest): boolean {
  const { hung, rect } = site;
  const lowestMm = lowestOf(site, limits);
  const within = (place: number, startMm: number, span: number) =>
    place >= startMm + limits.fromSidesMm && place <= startMm + span - limits.fromSidesMm;
  return (
    hung.length === count &&
    hung.every((lamp) => {
      const level = lamp.rotationDeg % 180 === 0;
      return (
        lamp.kindId === kind.id &&
        lamp.zMm >= lowestMm &&
        lamp.zMm <= limits.highestMm &&
        (level
          ? within(lamp.yMm, rect.yMm, rect.depthMm)
          : within(lamp.xMm, rect.xMm, rect.widthMm))
      );
    })
  );
}
