import type { Plan } from '../../../shared-types/plan';
import { codeOfPot, nameOf } from './names';
import { refTo } from './refs';
import type { RefKind } from './refs';

/** Lists of the plan whose entries have names of their own. */
const kindOfList: Record<string, RefKind> = {
  shelves: 'shelf',
  trays: 'tray',
  lamps: 'lamp',
  lampKinds: 'lampKind',
  readings: 'reading',
  factors: 'factor',
  levels: 'level',
  measurements: 'measurement',
  incidents: 'incident',
  zones: 'zone',
};

/** How the plan's names end where they carry a unit; the longer ones first. */
const unitEndings: [RegExp, string][] = [
  [/MmPerM$/, 'mm per m'],
  [/Mm$/, 'mm'],
  [/KgM3$/, 'kg/m³'],
  [/Kg$/, 'kg'],
  [/Deg$/, '°'],
  [/LMin$/, 'L/min'],
  [/UmolS$/, 'µmol/s'],
  [/UmolJ$/, 'µmol/J'],
  [/Umol$/, 'µmol m⁻² s⁻¹'],
  [/Hours$/, 'hours'],
  [/L$/, 'L'],
  [/W$/, 'W'],
  [/A$/, 'A'],
  [/V$/, 'V'],
  [/M$/, 'm'],
];

/** `pitchXMm` as `pitch x (mm)`. */
function fieldWords(name: string): string {
  const unit = unitEndings.find(([ending]) => ending.test(name));
  const bare = unit ? name.replace(unit[0], '') : name;
  const words = bare
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase()
    .trim();
  return unit ? `${words} (${unit[1]})` : words;
}

/**
 * A path into the plan in the words of the rack: `Tray 2B, width (mm)`. What has no name of its
 * own is named by its field, entries of plain lists by their number from 1.
 */
export function sayPlace(plan: Plan, path: readonly PropertyKey[]): string {
  let thing: string | null = null;
  let rest: string[] = [];
  let value: unknown = plan;
  let list = '';
  for (const part of path) {
    value = typeof value === 'object' && value !== null ? Reflect.get(value, part) : undefined;
    const id: unknown =
      typeof value === 'object' && value !== null ? Reflect.get(value, 'id') : undefined;
    const kind = Object.hasOwn(kindOfList, list) ? kindOfList[list] : undefined;
    if (typeof part === 'number' && kind !== undefined && typeof id === 'string') {
      thing = nameOf(plan, refTo(kind, id));
      rest = [];
    } else if (typeof part === 'number') {
      rest.push(String(part + 1));
    } else {
      const text = String(part);
      rest.push(text.includes(':') ? codeOfPot(plan, text) : fieldWords(text));
    }
    list = String(part);
  }
  const words = [...(thing === null ? [] : [thing]), rest.join(' ')].filter((word) => word !== '');
  const place = words.join(', ');
  return place === '' ? 'The plan' : place.charAt(0).toUpperCase() + place.slice(1);
}
