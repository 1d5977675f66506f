import { fieldNumber, rounded } from './numbers';
import { shownIn, say, unitOf, type UnitSystem } from './units';

/** Millimetres as a person reads them: `1200 mm`, `47.24 in`. */
export function formatLength(mm: number, system: UnitSystem): string {
  return say('length', system, mm);
}

export function lengthUnit(system: UnitSystem): string {
  return unitOf('length', system);
}

/** The bare number shown in a field, with the keyboard's minus sign so that it can be read back. */
export function lengthNumber(mm: number, system: UnitSystem): string {
  return fieldNumber(rounded(shownIn('length', system, mm), system === 'metric' ? 1 : 3));
}
