import { restingDepthMm } from './level';
import type { Work } from './lip';
import { outflowLMin, outletsOf } from './outlet';
import { siphonStarts } from '../working';

/** Flows in L/min, depths over the floor at the drain in mm. */
export interface SiphonFigures {
  starts: boolean | null;
  breaks: boolean;
  tripFlowLMin: number | null;
  fullAtCrestLMin: number;
  fullAtBreakLMin: number;
  /** Where the level hangs while the pump runs on; null where it breaks. */
  hangsAtMm: number | null;
}

/** null where the tray drains otherwise. */
export function siphonFigures(work: Work, reachesCrest: boolean): SiphonFigures | null {
  const { zone, basin, inflowLMin } = work;
  const { drain } = zone;
  if (drain.kind !== 'siphon') return null;
  const { emptying } = outletsOf(zone);
  const fullAtBreakLMin = outflowLMin(emptying, zone.residualMm);
  const breaks = inflowLMin < fullAtBreakLMin;
  const rest = restingDepthMm(inflowLMin, emptying);
  return {
    starts: reachesCrest ? siphonStarts(work) : false,
    breaks,
    tripFlowLMin: drain.tripFlowLMin,
    fullAtCrestLMin: outflowLMin(emptying, zone.floodDepthMm),
    fullAtBreakLMin,
    hangsAtMm: breaks || rest === null ? null : Math.min(basin.rimMm, rest),
  };
}
