import type { LightPlan, RotaPeriod } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { rotatedLight, type RotatedLight } from '../../engine/light';
import {
  canopyOverTrialOf,
  recordedHeightsOf,
  type CanopyOverTrial,
  type HeightsFrom,
} from './heights';
import { trayCode } from '../../engine/geometry';
import { Refusal, say } from '../../words';
import { memo } from '../memo';
import { attempt, type Attempt } from '../trial/trial';

type Lengths = Plan['display']['lengths'];

/** Mean light of every pot over the whole trial: trays moved by the rota, the canopy growing. */
export interface LightOverTrial extends RotatedLight {
  days: number;
  /** Whether a rota moves the trays. */
  moved: boolean;
  heights: HeightsFrom;
}

const NO_ROTA: readonly RotaPeriod[] = [];

const overTrialMemo = memo(
  (
    rack: Rack,
    light: LightPlan,
    rota: readonly RotaPeriod[],
    canopy: CanopyOverTrial,
    lengths: Lengths,
  ): Attempt<LightOverTrial> => {
    const days = canopy.days ?? rota.at(-1)?.toDay ?? 1;
    return attempt(() => ({
      ...belowLamps(rack, canopy, days, lengths),
      days,
      moved: rota.length > 0,
      heights: canopy.from,
      ...rotatedLight(rack, light, withinDays(rota, days), days, { lengths, canopyOn: canopy.on }),
    }));
  },
  8,
);

/** Throws where a canopy that was recorded reaches the lamps over it: nothing can be said of its light. */
function belowLamps(rack: Rack, { on }: CanopyOverTrial, days: number, lengths: Lengths): object {
  const length = (mm: number) => say('length', lengths, Math.round(mm));
  for (const shelf of rack.shelves) {
    const lowest = Math.min(...shelf.lamps.map(({ zMm }) => zMm));
    for (const tray of shelf.trays) {
      const grown = on(tray.id, days) ?? 0;
      if (grown < lowest) continue;
      throw new Refusal(
        `tray ${trayCode(shelf.number, tray.letter)}: plants and pots of ${length(grown)} reach the lowest lamp at ${length(lowest)}; a canopy below the lamps is expected`,
      );
    }
  }
  return {};
}

/**
 * Light over the trial, or the sentence why it cannot be told; null where the plan has neither a rota
 * nor recorded heights of plants. The canopy follows the heights that are recorded, or else grows as
 * planned. The trial lasts as it is dated, or else until the last height or move; moves after its
 * end are left out.
 */
export function lightOverTrialOf(plan: Plan): Attempt<LightOverTrial> | null {
  const { rota = NO_ROTA } = plan.light;
  if (rota.length === 0 && recordedHeightsOf(plan).length === 0) return null;
  return overTrialIn(plan, rota, canopyOverTrialOf(plan, 'recorded'));
}

/**
 * The same where a rota moves the trays, at the canopy height that all figures are for: how plants
 * grow is a result of the treatments, and light that follows it would carry their effect.
 */
export function lightByRotaOf(plan: Plan): Attempt<LightOverTrial> | null {
  const { rota = NO_ROTA } = plan.light;
  return rota.length === 0 ? null : overTrialIn(plan, rota, canopyOverTrialOf(plan, 'fixed'));
}

const overTrialIn = (plan: Plan, rota: readonly RotaPeriod[], canopy: CanopyOverTrial) =>
  overTrialMemo(plan.rack, plan.light, rota, canopy, plan.display.lengths);

function withinDays(rota: readonly RotaPeriod[], days: number): RotaPeriod[] {
  return rota
    .filter((period) => period.fromDay <= days)
    .map((period) => ({ ...period, toDay: Math.min(period.toDay, days) }));
}

export type RotaPattern = 'next' | 'turn' | 'next-and-turn';

/**
 * A rota in equal periods: every tray goes to the next place among the trays of its size on its
 * shelf, or is turned half round every other period, or both. The first period is as drawn.
 */
export function regularRota(
  rack: Rack,
  days: number,
  everyDays: number,
  pattern: RotaPattern,
): RotaPeriod[] {
  const periods: RotaPeriod[] = [];
  const rings = rack.shelves.flatMap((shelf) => {
    const bySize = new Map<string, string[]>();
    for (const tray of shelf.trays) {
      const size = `${Math.round(tray.widthMm)} ${Math.round(tray.depthMm)}`;
      bySize.set(size, [...(bySize.get(size) ?? []), tray.id]);
    }
    return [...bySize.values()];
  });
  for (let from = everyDays + 1, turn = 1; from <= days; from += everyDays, turn++) {
    const places: Record<string, RotaPeriod['places'][string]> = {};
    for (const ring of rings) {
      ring.forEach((trayId, i) => {
        const step = pattern === 'turn' ? 0 : turn;
        // Together they are turned once a whole round, so that every place is met both ways.
        const turned =
          pattern === 'turn'
            ? turn % 2 === 1
            : pattern === 'next-and-turn' && Math.floor(turn / ring.length) % 2 === 1;
        places[trayId] = { placeOf: ring[(i + step) % ring.length] ?? trayId, turned };
      });
    }
    periods.push({ fromDay: from, toDay: Math.min(days, from + everyDays - 1), places });
  }
  return periods;
}
