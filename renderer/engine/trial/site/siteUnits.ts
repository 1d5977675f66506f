import type { UnitKind } from '../../../../shared-types/trial/trial';
import { crossed } from './partition';
import type { Partition } from './partition';
import type { TrialPot } from './trialPot';
import { whole } from '../../entry';
import type { Site } from './site';

const PLACES = ['shelf', 'zone', 'bay', 'tray'] as const satisfies readonly UnitKind[];

/** Units from the coarsest to the finest: a reservoir may serve several shelves, or one tray. */
export function unitOrder(unitOf: Record<UnitKind, Partition>): UnitKind[] {
  const places = [...PLACES].sort((a, b) => unitOf[a].count - unitOf[b].count);
  return [...places, 'row-strip', 'column-strip', 'pot'];
}

export function firstPotsOf(pots: readonly TrialPot[], units: Partition): TrialPot[] {
  const first: TrialPot[] = [];
  pots.forEach((pot, i) => {
    const unit = whole(units.classOf, i);
    first[unit] ??= pot;
  });
  return first;
}

/** Pots of one strip of rows and one strip of columns: what both treatments of a strip plot cover. */
export const cellUnits = ({ unitOf }: Site): Partition =>
  crossed(unitOf['row-strip'], unitOf['column-strip']);
