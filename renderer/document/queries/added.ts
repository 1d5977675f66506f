import type { Plan } from '../../../shared-types/plan';
import { refTo } from './refs';
import type { RefKind } from './refs';

function* things(plan: Plan): Generator<[RefKind, string]> {
  for (const shelf of plan.rack.shelves) {
    yield ['shelf', shelf.id];
    for (const tray of shelf.trays) yield ['tray', tray.id];
    for (const lamp of shelf.lamps) yield ['lamp', lamp.id];
    for (const board of shelf.boards ?? []) yield ['board', board.id];
  }
  for (const kind of plan.rack.lampKinds) yield ['lampKind', kind.id];
  for (const reading of plan.light.readings) yield ['reading', reading.id];
  for (const factor of plan.trial?.factors ?? []) {
    yield ['factor', factor.id];
    for (const level of factor.levels) yield ['level', level.id];
  }
  for (const measurement of plan.trial?.measurements ?? []) yield ['measurement', measurement.id];
  for (const incident of plan.records.incidents) yield ['incident', incident.id];
  for (const zone of plan.flood?.zones ?? []) yield ['zone', zone.id];
}

/**
 * References of what a plan has and an earlier one had not. What stands on a new shelf or belongs
 * to a new factor comes after it.
 */
export function refsAdded(before: Plan, after: Plan): string[] {
  // Ids are never given out twice: a plan whose counter stands still has nothing new.
  if (before.nextId === after.nextId) return [];
  const known = new Set([...things(before)].map(([, id]) => id));
  return [...things(after)].flatMap(([kind, id]) => (known.has(id) ? [] : [refTo(kind, id)]));
}
