import type { RotaPeriod, TrayPlace } from '../../shared-types/light';
import type { Plan } from '../../shared-types/plan';

/** Where a tray stands in a period; as drawn unless the period says otherwise. */
export function placeIn(period: RotaPeriod, trayId: string): TrayPlace {
  return period.places[trayId] ?? { placeOf: trayId, turned: false };
}

/** Writes a tray's place into the caller's own draft; a tray that stands as drawn is not named. */
export function setPlaceIn(period: RotaPeriod, trayId: string, place: TrayPlace): void {
  const all = { ...period.places, [trayId]: place };
  period.places = placesWhere(all, (id, { placeOf, turned }) => placeOf !== id || turned);
}

function placesWhere(
  places: RotaPeriod['places'],
  stays: (trayId: string, place: TrayPlace) => boolean,
): RotaPeriod['places'] {
  return Object.fromEntries(Object.entries(places).filter(([id, place]) => stays(id, place)));
}

/**
 * Takes trays that are gone out of a draft's rota. Whoever stood in the place of one goes home, and
 * so on round, until again no two trays stand in one place.
 */
export function forgetTraysInRota(rota: RotaPeriod[], trayIds: ReadonlySet<string>): void {
  for (const period of rota) {
    let places = placesWhere(
      period.places,
      (id, { placeOf }) => trayIds.has(id) && trayIds.has(placeOf),
    );
    // A tray stays in another's place only while that one has left it.
    for (let before = -1; before !== Object.keys(places).length;) {
      before = Object.keys(places).length;
      const left = places;
      const isFree = (id: string) => (left[id]?.placeOf ?? id) !== id;
      places = placesWhere(left, (id, { placeOf }) => placeOf === id || isFree(placeOf));
    }
    if (Object.keys(places).length !== Object.keys(period.places).length) period.places = places;
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
