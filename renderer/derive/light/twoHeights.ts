import type { LightPlan } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { potLight, type Evenness, type PotLight } from '../../engine/light';
import { memo } from '../memo';
import { burntDaysOf } from './burntDays';
import { potsOf } from '../trial/trial';

/** Light over a shelf's pots with the canopy at one height. */
export interface AtHeight {
  heightMm: number;
  evenness: Evenness;
  dliMol: number;
}

export interface TwoHeights {
  ref: string;
  name: string;
  planting: AtHeight;
  harvest: AtHeight;
}

const heightsMemo = memo((rack: Rack, light: LightPlan, burntDays: number) => ({
  planting: potLight(rack, { ...light, canopyAt: 'planting' }),
  harvest: potLight(rack, { ...light, canopyAt: 'harvest', burntDays }),
}));

/** Evenness of every shelf with the canopy at its height at planting and at harvest. */
export function twoHeightsOf(plan: Plan): TwoHeights[] {
  const { planting, harvest } = heightsMemo(plan.rack, plan.light, burntDaysOf(plan, 'harvest'));
  return plan.rack.shelves.flatMap((shelf) => {
    if (shelf.lamps.length === 0) return [];
    const first = atHeight(plan, planting, shelf.id);
    const last = atHeight(plan, harvest, shelf.id);
    if (!first || !last) return [];
    return [
      {
        ref: `shelf:${shelf.id}`,
        name: `Shelf ${shelf.number}`,
        planting: first,
        harvest: last,
      },
    ];
  });
}

function atHeight(plan: Plan, light: PotLight, shelfId: string): AtHeight | null {
  const summary = light.shelves.get(shelfId);
  if (!summary?.evenness) return null;
  const dlis = potsOf(plan).flatMap((pot) =>
    pot.shelfId === shelfId ? (light.pots.get(pot.id)?.dliMol ?? []) : [],
  );
  const dliMol = dlis.reduce((sum, value) => sum + value, 0) / dlis.length;
  return { heightMm: summary.heightMm, evenness: summary.evenness, dliMol };
}
