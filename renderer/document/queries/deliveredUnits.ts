import type { DeliveredMeasure } from '../../../shared-types/delivered';
import type { Plan } from '../../../shared-types/plan';
import { baysOf, isParted, trayCode } from '../../engine/geometry';

export type DeliveredUnitKind = 'zone' | 'bay' | 'tray';

/** Something that gets water or light of its own, and what is usually read there. */
export interface DeliveredUnit {
  id: string;
  kind: DeliveredUnitKind;
  /** A zone has its own name; else `shelf 2`, `bay 2 left`, `tray 2B`. */
  name: string;
  measures: readonly DeliveredMeasure[];
}

const usual: Record<DeliveredUnitKind, readonly DeliveredMeasure[]> = {
  zone: ['ec', 'ph', 'temperature'],
  bay: ['ppfd', 'hours', 'temperature'],
  tray: ['ec', 'ph', 'temperature', 'ppfd'],
};

/** Reservoirs, then shelves or their bays, then trays, as they stand on the rack. */
export function deliveredUnits({ rack, flood }: Pick<Plan, 'rack' | 'flood'>): DeliveredUnit[] {
  const unit = (kind: DeliveredUnitKind, id: string, name: string): DeliveredUnit => ({
    id,
    kind,
    name,
    measures: usual[kind],
  });
  return [
    ...(flood?.zones ?? []).map(({ id, name }) => unit('zone', id, name)),
    ...rack.shelves.flatMap((shelf) =>
      baysOf(shelf).map(({ id, name }) =>
        unit('bay', id, isParted(shelf) ? `bay ${name}` : `shelf ${shelf.number}`),
      ),
    ),
    ...rack.shelves.flatMap((shelf) =>
      shelf.trays.map(({ id, letter }) =>
        unit('tray', id, `tray ${trayCode(shelf.number, letter)}`),
      ),
    ),
  ];
}

/** A unit that is no longer on the rack keeps its log, under its id. */
export const deliveredUnitName = (plan: Pick<Plan, 'rack' | 'flood'>, unitId: string): string =>
  deliveredUnits(plan).find(({ id }) => id === unitId)?.name ?? `${unitId} (no longer there)`;
