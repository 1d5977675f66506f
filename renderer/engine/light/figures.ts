import { list, shownIn, trimmed, unitOf, type UnitSystem } from '../../words';

/** Two lengths with one unit: `300, 150 mm`, `11.81, 5.91 in`. */
export function placeInWords(xMm: number, yMm: number, lengths: UnitSystem): string {
  const shown = (mm: number) =>
    trimmed(shownIn('length', lengths, mm), lengths === 'metric' ? 0 : 2);
  return `${shown(xMm)}, ${shown(yMm)} ${unitOf('length', lengths)}`;
}

/** `shelf 1`, `shelves 1 and 2`, `shelves 1, 2 and 4`. */
export function shelvesInWords(numbers: readonly number[]): string {
  const last = numbers[numbers.length - 1];
  if (last === undefined) return 'no shelf';
  if (numbers.length === 1) return `shelf ${last}`;
  return `shelves ${list(numbers.map(String))}`;
}
