import type { LightPlan, RotaPeriod } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { rotatedLight, type RotatedLight } from '../../engine/light';
import { trialDaysOf } from './whatIf';
import { memo } from '../memo';
import { attempt, type Attempt } from '../trial/trial';

type Lengths = Plan['display']['lengths'];

/** Mean light of every pot over the whole trial, with the plan's rota of tray moves. */
export interface LightOverTrial extends RotatedLight {
  days: number;
}

const overTrialMemo = memo(
  (
    rack: Rack,
    light: LightPlan,
    rota: readonly RotaPeriod[],
    dated: number | null,
    lengths: Lengths,
  ): Attempt<LightOverTrial> => {
    const days = dated ?? rota.at(-1)?.toDay ?? 1;
    return attempt(() => ({
      days,
      ...rotatedLight(rack, light, withinDays(rota, days), days, { lengths }),
    }));
  },
);

/**
 * Light over the trial, or the sentence why it cannot be told; null where the plan has no rota. The
 * trial lasts as it is dated, or else until the rota's last day; moves after its end are left out.
 */
export function lightOverTrialOf(plan: Plan): Attempt<LightOverTrial> | null {
  const { rota } = plan.light;
  if (!rota || rota.length === 0) return null;
  return overTrialMemo(plan.rack, plan.light, rota, trialDaysOf(plan), plan.display.lengths);
}

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
