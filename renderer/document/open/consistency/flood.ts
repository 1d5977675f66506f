import type { FloodPlan } from '../../../../shared-types/flood';
import { sayFound } from '../words';
import { contradict, type Check, type Contradiction, type Path } from './contradiction';

export const floodNamesWhatIsThere: Check = (plan) => {
  const flood = plan.flood;
  if (!flood) return null;
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  const zones = new Set(flood.zones.map((zone) => zone.id));
  const named: { path: Path; ids: readonly string[]; known: Set<string>; what: string }[] = [
    ...flood.zones.map((zone, z) => ({
      path: ['zones', z, 'trayIds'],
      ids: zone.trayIds,
      known: trays,
      what: 'tray',
    })),
    ...flood.media.map((medium, m) => ({
      path: ['media', m, 'trayIds'],
      ids: medium.trayIds,
      known: trays,
      what: 'tray',
    })),
    { path: ['slopes'], ids: flood.slopes.map((s) => s.trayId), known: trays, what: 'tray' },
    ...flood.circuits.flatMap((circuit, c) => [
      { path: ['circuits', c, 'shelfIds'], ids: circuit.shelfIds, known: shelves, what: 'shelf' },
      { path: ['circuits', c, 'zoneIds'], ids: circuit.zoneIds, known: zones, what: 'flood zone' },
    ]),
  ];
  for (const { path, ids, known, what } of named) {
    const i = ids.findIndex((id) => !known.has(id));
    if (i >= 0) {
      return contradict(['flood', ...path, i], sayFound(ids[i]), `the id of a ${what} in the plan`);
    }
  }
  return onceEach(flood) ?? curvesFall(flood);
};

/** A tray is flooded by one zone, holds one medium and lies on one slope. */
function onceEach(flood: FloodPlan): Contradiction | null {
  const lists: [readonly (readonly string[])[], (list: number, i: number) => Path, string][] = [
    [flood.zones.map((z) => z.trayIds), (z, i) => ['zones', z, 'trayIds', i], 'one zone'],
    [flood.media.map((m) => m.trayIds), (m, i) => ['media', m, 'trayIds', i], 'one medium'],
    [[flood.slopes.map((s) => s.trayId)], (_, i) => ['slopes', i, 'trayId'], 'one slope'],
  ];
  for (const [ids, pathOf, what] of lists) {
    const seen = new Set<string>();
    for (const [list, own] of ids.entries()) {
      for (const [i, id] of own.entries()) {
        if (seen.has(id)) {
          return contradict(
            ['flood', ...pathOf(list, i)],
            `"${id}" once more`,
            `every tray in ${what}`,
          );
        }
        seen.add(id);
      }
    }
  }
  return null;
}

/** More flow at more head is no pump. */
function curvesFall(flood: FloodPlan): Contradiction | null {
  for (const [z, zone] of flood.zones.entries()) {
    const points = zone.pump.curve;
    for (const [i, point] of points.entries()) {
      const better = points.find((p) => p.headM <= point.headM && p.flowLMin < point.flowLMin);
      if (!better) continue;
      return contradict(
        ['flood', 'zones', z, 'pump', 'curve', i, 'flowLMin'],
        `${point.flowLMin} L/min at ${point.headM} m`,
        `at most the ${better.flowLMin} L/min that it gives at ${better.headM} m`,
      );
    }
  }
  return null;
}
