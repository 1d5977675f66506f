import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { floodFigures, type FloodFigures, type PottedFlood } from '../../engine/flood';
import { memo } from '../memo';

export {
  circuitVerdict,
  DAY_S,
  depthAt,
  electricityCautions,
  loadCases,
  loadCaseWords,
  loadVerdict,
  needsAndGets,
  reservoirVerdict,
  rootZoneVerdicts,
  trayVerdicts,
  withinDay,
  zoneSummary,
  type CircuitLoad,
  type CoursePoint,
  type FloodFigures,
  type LoadCase,
  type Margin,
  type PumpRun,
  type ShelfLoad,
  type TrayFlood,
  type FloodVerdict,
  type ZoneFlood,
  type ZoneOverlap,
} from '../../engine/flood';

const figuresMemo = memo((rack: Rack, flood: PottedFlood): FloodFigures =>
  floodFigures(rack, flood),
);

/** Everything reckoned about the flooding; null where the plan says nothing of it. */
export function floodOf(plan: Plan): FloodFigures | null {
  return plan.flood ? figuresMemo(plan.rack, plan.flood) : null;
}

const depthsMemo = memo(
  (figures: FloodFigures): ReadonlyMap<string, number> =>
    new Map([...figures.trays.values()].flatMap((tray) => [...tray.potDepthMm])),
);

const NONE: ReadonlyMap<string, number> = new Map();

/**
 * Depth of water at each pot's centre when its tray is fullest, mm, by pot id: a covariate where a
 * tray is not level. Pots of trays in no zone, and plans without flooding, have none.
 */
export function wetDepthByPotOf(plan: Plan): ReadonlyMap<string, number> {
  const figures = floodOf(plan);
  return figures ? depthsMemo(figures) : NONE;
}
