import type { Plan } from '../../../shared-types/plan';
import { baysOf, trayCode } from '../../engine/geometry';
import {
  applications,
  applicationWords,
  schemeLabels,
  schemes,
  unitKinds,
  unitWords,
  type Application,
  type Blocks,
  type UnitKind,
} from '../../../shared-types/trial';

/** Units that a factor can be said to stand on. A bay is a whole shelf, which is offered already. */
export const unitOptions: readonly { value: UnitKind; label: string }[] = unitKinds
  .filter((unit) => unit !== 'bay')
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

export const blockOptions: readonly { value: Blocks['by']; label: string }[] = [
  { value: 'none', label: 'no blocks' },
  { value: 'shelf', label: 'each shelf' },
  { value: 'tray', label: 'each tray' },
  { value: 'tray-halves', label: 'halves of each tray' },
  { value: 'tray-quarters', label: 'quarters of each tray' },
  { value: 'rows', label: 'rows of pots on each shelf' },
  { value: 'columns', label: 'columns of pots on each shelf' },
  { value: 'light', label: 'bands of equal light' },
];

/** What a kind of block starts with when it is chosen. */
export function blocksFor(by: Blocks['by']): Blocks {
  if (by === 'rows' || by === 'columns') return { by, perBlock: 1 };
  if (by === 'light') return { by, bands: 4 };
  return { by };
}
