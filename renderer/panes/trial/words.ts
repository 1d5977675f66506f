import type { Plan } from '../../../shared-types/plan';
import { baysOf, isParted, trayCode } from '../../engine/geometry';
import {
  applications,
  applicationWords,
  unitKinds,
  unitWords,
  type Application,
  type UnitKind,
} from '../../../shared-types/trial/trial';
import { schemeLabels, schemes, type Blocks } from '../../../shared-types/trial/scheme';

const hasBays = (plan: Plan | null): boolean => plan?.rack.shelves.some(isParted) ?? false;

/** Units that a factor can be said to stand on; bays where there are boards, or it stands on them. */
export const unitOptions = (
  plan: Plan | null,
  chosen: UnitKind,
): { value: UnitKind; label: string }[] =>
  unitKinds
    .filter((unit) => unit !== 'bay' || chosen === 'bay' || hasBays(plan))
    .map((value) => ({ value, label: unitWords[value].one }))
    .reverse();

export type PlaceUnit = 'shelf' | 'zone' | 'bay' | 'tray';

/** The units of one kind, as they are told apart on the rack. */
export function placesOf(plan: Plan, unit: PlaceUnit): { id: string; name: string }[] {
  const { shelves } = plan.rack;
  switch (unit) {
    case 'shelf':
      return shelves.map(({ id, number }) => ({ id, name: `Shelf ${number}` }));
    case 'zone':
      return (plan.flood?.zones ?? []).map(({ id, name }) => ({ id, name }));
    case 'bay':
      return shelves.flatMap(baysOf).map(({ id, name }) => ({ id, name: `Bay ${name}` }));
    case 'tray':
      return shelves.flatMap(({ number, trays }) =>
        trays.map(({ id, letter }) => ({ id, name: `Tray ${trayCode(number, letter)}` })),
      );
  }
}

export const applicationOptions: readonly { value: Application | 'unsaid'; label: string }[] = [
  { value: 'unsaid', label: 'not said' },
  ...applications.map((value) => ({ value, label: applicationWords[value] })),
];

export const schemeOptions = schemes.map((value) => ({ value, label: schemeLabels[value] }));

const BLOCKS: readonly { value: Blocks['by']; label: string }[] = [
  { value: 'none', label: 'no blocks' },
  { value: 'shelf', label: 'each shelf' },
  { value: 'bay', label: 'each bay' },
  { value: 'tray', label: 'each tray' },
  { value: 'tray-halves', label: 'halves of each tray' },
  { value: 'tray-quarters', label: 'quarters of each tray' },
  { value: 'rows', label: 'rows of pots on each shelf' },
  { value: 'columns', label: 'columns of pots on each shelf' },
  { value: 'light', label: 'bands of equal light' },
];

/** Groupings offered; bays where there are boards, or blocks are made by them. */
export const blockOptions = (plan: Plan | null, chosen: Blocks['by']) =>
  BLOCKS.filter(({ value }) => value !== 'bay' || chosen === 'bay' || hasBays(plan));

/** What a kind of block starts with when it is chosen. */
export function blocksFor(by: Blocks['by']): Blocks {
  if (by === 'rows' || by === 'columns') return { by, perBlock: 1 };
  if (by === 'light') return { by, bands: 4 };
  return { by };
}
