import type { RotaPeriod, TrayPlace } from '../../shared-types/light';
import type { Plan } from '../../shared-types/plan';

/** Where a tray stands in a period; as drawn unless the period says otherwise. */
export function placeIn(period: RotaPeriod, trayId: string): TrayPlace {
  return period.places[trayId] ?? { placeOf: trayId, turned: false };
}

/** Writes a tray's place into the caller's own draft; a tray that stands as drawn is not named. */
export function setPlaceIn(period: RotaPeriod, trayId: string, place: TrayPlace): void {
  if (place.placeOf === trayId && !place.turned) delete period.places[trayId];
  else period.places[trayId] = place;
}

/**
 * Takes trays that are gone out of a draft's rota. Whoever stood in the place of one goes home, and
 * so on round, until again no two trays stand in one place.
 */
export function forgetTraysInRota(rota: RotaPeriod[], trayIds: ReadonlySet<string>): void {
  for (const { places } of rota) {
    for (const [id, { placeOf }] of Object.entries(places)) {
      if (!trayIds.has(id) || !trayIds.has(placeOf)) delete places[id];
    }
    // Each round sends at least one tray home, so that this ends.
    for (let sent = true; sent;) {
      sent = false;
      for (const [id, { placeOf }] of Object.entries(places)) {
        const other = places[placeOf];
        if (placeOf === id || (other && other.placeOf !== placeOf)) continue;
        delete places[id];
        sent = true;
      }
    }
  }
}

type Path = readonly PropertyKey[];

/** Where the plan's rota contradicts its rack or itself. */
export function rotaFault(plan: Plan): { at: Path; found: string; expected: string } | null {
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  let lastDay = 0;
  for (const [p, period] of (plan.light.rota ?? []).entries()) {
    const at = ['light', 'rota', p];
    const { fromDay, toDay, places } = period;
    if (fromDay <= lastDay) {
      const expected = `a day after ${lastDay}, the last of the period before`;
      return { at: [...at, 'fromDay'], found: String(fromDay), expected };
    }
    if (toDay < fromDay) {
      return { at: [...at, 'toDay'], found: String(toDay), expected: `at least ${fromDay}` };
    }
    lastDay = toDay;
    for (const [id, { placeOf }] of Object.entries(places)) {
      const here = [...at, 'places', id];
      const expected = 'the id of a tray in the rack';
      if (!trays.has(id)) return { at: here, found: `"${id}"`, expected };
      if (!trays.has(placeOf)) {
        return { at: [...here, 'placeOf'], found: `"${placeOf}"`, expected };
      }
    }
    const taken = new Set<string>();
    for (const id of trays) {
      const { placeOf } = placeIn(period, id);
      if (taken.has(placeOf)) {
        const found = `a second tray in the place of "${placeOf}"`;
        return { at: [...at, 'places'], found, expected: 'one tray a place' };
      }
      taken.add(placeOf);
    }
  }
  return null;
}
