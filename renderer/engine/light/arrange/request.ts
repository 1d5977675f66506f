import type { LightPlan, LightReading } from '../../../../shared-types/light';
import type { LampKind, Shelf } from '../../../../shared-types/rack';
import { rowPlans, type RowLimits, type RowPlan } from './rows';
import type { ArrangeSite } from './site';
import { Refusal, say, type UnitSystem } from '../../../words';
import { num } from '../../entry';

export interface ArrangeLimits extends RowLimits {
  /** Clearance kept between the emitting faces and the canopy, grown as it is at harvest. */
  aboveCanopyMm: number;
  /** Height of the emitting faces above the shelf's surface, at most. */
  highestMm: number;
}

export interface ArrangeRequest {
  shelf: Shelf;
  /** Of a shelf that boards part: the bay whose lamps are arranged. All others stay. */
  bayId?: string;
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
  /** Which canopy height the light is judged at. */
  canopyAt: LightPlan['canopyAt'];
  reflected?: boolean;
  /** Meter readings, so that lamps are taken for what they give and not for what they should. */
  readings?: readonly LightReading[];
  limits: ArrangeLimits;
  /** In what the person reads lengths. */
  lengths?: UnitSystem;
}

/** What is asked beside the target. */
export type ArrangeAsked = Omit<ArrangeRequest, 'targetMeanUmol'>;

/** Lowest height of the emitting faces: over the canopy as tall as it grows, with clearance. */
export const lowestOf = (site: ArrangeSite, limits: ArrangeLimits): number =>
  site.grownMm + limits.aboveCanopyMm;

/** The ways to lay the rows. Throws on limits that cannot be met. */
export function plansFor(request: ArrangeAsked, site: ArrangeSite): RowPlan[] {
  const { kind, count, perRow, limits, lengths = 'metric' } = request;
  const length = (mm: number) => say('length', lengths, mm);
  const rows = count / (perRow ?? 1);
  if (!(Number.isInteger(count) && Number.isInteger(rows) && rows >= 1)) {
    const each = perRow === undefined ? '' : ` in rows of ${perRow}`;
    throw new Refusal(`${count} lamps${each}: whole rows of at least one are expected`);
  }
  if (!(limits.aboveCanopyMm > 0 && limits.highestMm >= lowestOf(site, limits))) {
    throw new Refusal(
      `lamps ${length(limits.aboveCanopyMm)} above a canopy of ${length(site.grownMm)} and at most ` +
        `${length(limits.highestMm)} high: heights above the grown canopy are expected; less ` +
        `clearance, lower plants or more room above would give some`,
    );
  }
  const plans = rowPlans(site.rect, kind, count, limits, { perRow, open: site.open });
  if (plans.length === 0) {
    throw new Refusal(
      `${count} lamps in rows ${length(limits.apartMm)} apart and ${length(limits.fromSidesMm)} ` +
        `from the sides of a ${site.open ? 'shelf' : 'bay'} of ${length(site.rect.widthMm)} × ` +
        `${length(site.rect.depthMm)}: they do not fit; fewer lamps or narrower limits are expected`,
    );
  }
  return plans;
}

export function equalPlaces({ along, rows }: RowPlan, { rect }: ArrangeSite): number[] {
  const [startMm, span] = along === 'x' ? [rect.yMm, rect.depthMm] : [rect.xMm, rect.widthMm];
  return Array.from({ length: rows }, (_, i) => startMm + (span * (i + 0.5)) / rows);
}

/** Equal places moved in from the sides as far as they must. */
export function insideOf(plan: RowPlan, site: ArrangeSite): number[] {
  return equalPlaces(plan, site).map((place) => Math.min(plan.toMm, Math.max(plan.fromMm, place)));
}

/** The outer rows at the sides, the others equally between. */
export function wideOf({ rows, fromMm, toMm }: RowPlan): number[] {
  if (rows === 1) return [(fromMm + toMm) / 2];
  return Array.from({ length: rows }, (_, i) => fromMm + (i * (toMm - fromMm)) / (rows - 1));
}

export function spacedEnough(places: readonly number[], apartMm: number): boolean {
  return places.every((place, i) => i === 0 || place - num(places, i - 1) >= apartMm);
}
