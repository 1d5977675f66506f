import { shownIn, unitOf, type UnitSystem } from '../geometry';

export { figure, say, type UnitSystem } from '../geometry';

/** Two lengths with one unit: `300, 150 mm`, `11.81, 5.91 in`. */
export function placeInWords(xMm: number, yMm: number, lengths: UnitSystem): string {
  const shown = (mm: number) =>
    String(Number(shownIn('length', lengths, mm).toFixed(lengths === 'metric' ? 0 : 2)) + 0);
  return `${shown(xMm)}, ${shown(yMm)} ${unitOf('length', lengths)}`;
}

/** `1 pot`, `3 pots`. */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** `shelf 1`, `shelves 1 and 2`, `shelves 1, 2 and 4`. */
export function shelvesInWords(numbers: readonly number[]): string {
  const last = numbers[numbers.length - 1];
  if (last === undefined) return 'no shelf';
  if (numbers.length === 1) return `shelf ${last}`;
  return `shelves ${numbers.slice(0, -1).join(', ')} and ${last}`;
}
