import {
  baysOf,
  findBoard,
  findLamp,
  findShelf,
  findTray,
  potCode,
  trayCode,
} from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { splitPotId } from '../potsInRack';
import { parseRef, refTo } from './refs';
import { list, sayDay } from '../../words';

/** Names are asked for in labels and messages, so an unknown id gives its own text, no error. */

/** `2B-C7`. */
export function codeOfPot(plan: Plan, potId: string): string {
  const place = splitPotId(potId);
  const found = place && findTray(plan.rack, place.trayId);
  if (!found) return potId;
  return potCode(found.shelf.number, found.tray.letter, place.row, place.column);
}

/** `fresh weight at harvest`: a measurement with its timepoint, which tells it from its sisters. */
export const measurementLabel = (measurement: Measurement): string => labelled(measurement, sayDay);

/** The same at the head of a column in a file, with its day as ISO 8601 has it. */
export const measurementHead = (measurement: Measurement): string =>
  labelled(measurement, (day) => day);

function labelled({ name, timepoint, date }: Measurement, say: (day: string) => string): string {
  const dated = date === null ? '' : ` ${say(date)}`;
  if (timepoint === 'interim') return `${name} between${dated}`;
  return `${name} at ${timepoint}`;
}

/** `shelf 2`, `tray 2B`, `pot 2B-C7`, `lamp 1 over shelf 2`, `factor light`… */
export function nameOf(plan: Plan, ref: string): string {
  if (ref === 'plan') return 'the plan';
  const parsed = parseRef(ref);
  if (!parsed) return ref;
  const { kind, id } = parsed;
  const { rack, trial, records, flood } = plan;
  switch (kind) {
    case 'shelf': {
      const shelf = findShelf(rack, id);
      return shelf ? `shelf ${shelf.number}` : ref;
    }
    case 'tray': {
      const found = findTray(rack, id);
      return found ? `tray ${trayCode(found.shelf.number, found.tray.letter)}` : ref;
    }
    case 'pot':
      return `pot ${codeOfPot(plan, id)}`;
    case 'lamp': {
      const found = findLamp(rack, id);
      if (!found) return ref;
      return `lamp ${found.shelf.lamps.indexOf(found.lamp) + 1} over shelf ${found.shelf.number}`;
    }
    case 'board': {
      const found = findBoard(rack, id);
      if (!found) return ref;
      return `board ${(found.shelf.boards ?? []).indexOf(found.board) + 1} on shelf ${found.shelf.number}`;
    }
    case 'lampKind':
      return rack.lampKinds.find((k) => k.id === id)?.name ?? ref;
    case 'reading': {
      const reading = plan.light.readings.find((r) => r.id === id);
      return reading ? `reading over ${nameOf(plan, refTo('shelf', reading.shelfId))}` : ref;
    }
    case 'factor': {
      const factor = trial?.factors.find((f) => f.id === id);
      return factor ? `factor ${factor.name}` : ref;
    }
    case 'level': {
      const level = trial?.factors.flatMap((f) => f.levels).find((l) => l.id === id);
      return level ? `level ${level.name}` : ref;
    }
    case 'measurement': {
      const measurement = trial?.measurements.find((m) => m.id === id);
      return measurement ? measurementLabel(measurement) : ref;
    }
    case 'incident': {
      const incident = records.incidents.find((i) => i.id === id);
      return incident ? `incident of ${sayDay(incident.date)}` : ref;
    }
    case 'bay': {
      const bay = rack.shelves.flatMap((shelf) => baysOf(shelf)).find((one) => one.id === id);
      return bay ? `bay ${bay.name}` : ref;
    }
    case 'zone': {
      const zone = flood?.zones.find((z) => z.id === id);
      return zone ? `flood zone ${zone.name}` : ref;
    }
  }
}

/** One or two things by name, more by number: `tray 2B`, `tray 2A and tray 2B`, `7 pots`. */
export function sayThings(plan: Plan, refs: readonly string[]): string {
  if (refs.length <= 2) return list(refs.map((ref) => nameOf(plan, ref)));
  const kinds = new Set(refs.map((ref) => parseRef(ref)?.kind));
  const [kind] = kinds;
  if (kinds.size !== 1 || kind === undefined) return `${refs.length} things`;
  const plural = { shelf: 'shelves', lampKind: 'lamp kinds', zone: 'flood zones' };
  return `${refs.length} ${kind in plural ? Reflect.get(plural, kind) : `${kind}s`}`;
}
