import type { Plan } from '../../../../shared-types/plan';
import { idsOf, refTo, sayThings } from '../../../document/queries';

export type IncidentScope = 'selected' | 'trays' | 'shelves' | 'rack';
export interface IncidentPlace {
  value: IncidentScope;
  label: string;
  ids: readonly string[];
}
export const WHOLE_RACK: IncidentPlace = { value: 'rack', label: 'the whole rack', ids: [] };

/** What the selection offers: its things, the trays and the shelves of its pots, the whole rack. */
export function placesIn(plan: Plan, selection: readonly string[]): IncidentPlace[] {
  const things = selection.filter((ref) => /^(?:shelf|tray|lamp|board|pot):/.test(ref));
  if (things.length === 0) return [WHOLE_RACK];
  const inTrays = idsOf(things, 'pot').map((id) => id.slice(0, id.indexOf(':')));
  const trayIds = [...new Set(inTrays)];
  const shelfIds = plan.rack.shelves
    .filter((s) => s.trays.some((t) => trayIds.includes(t.id) || things.includes(`tray:${t.id}`)))
    .map((shelf) => shelf.id);
  const named = (
    value: IncidentScope,
    refs: readonly string[],
    ids: readonly string[],
  ): IncidentPlace[] => (ids.length > 0 ? [{ value, label: sayThings(plan, refs), ids }] : []);
  return [
    ...named(
      'selected',
      things,
      things.map((ref) => ref.slice(ref.indexOf(':') + 1)),
    ),
    ...named(
      'trays',
      trayIds.map((id) => refTo('tray', id)),
      trayIds,
    ),
    ...named(
      'shelves',
      shelfIds.map((id) => refTo('shelf', id)),
      shelfIds,
    ),
    WHOLE_RACK,
  ];
}
