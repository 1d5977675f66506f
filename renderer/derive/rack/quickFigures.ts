import type { Plan } from '../../../shared-types/plan';
import { memo } from '../memo';
import { potLightOf } from '../light/potLight';
import { potsOf } from '../trial/trial';

/** What a rack of like shelves holds and gets, before anything else is known of it. */
export interface QuickFigures {
  pots: number;
  shelves: number;
  /** Across and from row to row; null without pots. */
  pitchMm: { x: number; y: number } | null;
  /** Over the pots of the lowest shelf, which all others are like; null without lamps or pots. */
  light: { meanUmol: number; darkestShare: number } | null;
}

/** Figures of a plan whose shelves are all alike: the light is computed for the first alone. */
export const quickFiguresOf = memo((plan: Plan): QuickFigures => {
  const { shelves } = plan.rack;
  const [first] = shelves;
  const grid = first?.trays[0]?.grid ?? null;
  const lit = first && first.lamps.length > 0 ? evennessOn(plan, first.id) : null;
  return {
    pots: potsOf(plan).length,
    shelves: shelves.length,
    pitchMm: grid && { x: grid.pitchXMm, y: grid.pitchYMm },
    light:
      lit && lit.minToMean !== null ? { meanUmol: lit.mean, darkestShare: lit.minToMean } : null,
  };
});

function evennessOn(plan: Plan, shelfId: string) {
  const shelves = plan.rack.shelves.filter(({ id }) => id === shelfId);
  const alone: Plan = { ...plan, rack: { ...plan.rack, shelves } };
  return potLightOf(alone).shelves.get(shelfId)?.evenness ?? null;
}
