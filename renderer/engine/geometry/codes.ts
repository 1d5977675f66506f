import { Refusal } from '../../words';

// I and O are left out: on a wet label they read as 1 and 0.
const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ';

/** Letters for a number counted from 1: A … Z without I and O, then AA, AB… */
export function letterOf(number: number): string {
  if (!Number.isInteger(number) || number < 1) {
    throw new Refusal(`letter of ${number}: a whole number from 1 up is expected`);
  }
  let rest = number - 1;
  let letters = '';
  do {
    letters = LETTERS.charAt(rest % LETTERS.length) + letters;
    rest = Math.floor(rest / LETTERS.length) - 1;
  } while (rest >= 0);
  return letters;
}

/** `2B-C7`: shelf number, tray letter, row letter, column number. */
export function potCode(
  shelfNumber: number,
  trayLetter: string,
  row: number,
  column: number,
): string {
  return `${shelfNumber}${trayLetter}-${letterOf(row)}${column}`;
}

/** `2B`: shelf number and tray letter. */
export function trayCode(shelfNumber: number, trayLetter: string): string {
  return `${shelfNumber}${trayLetter}`;
}

export function potId(trayId: string, row: number, column: number): string {
  return `${trayId}:${row}:${column}`;
}
