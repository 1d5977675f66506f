import { potCode } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';

/**
 * The code of the pot at a place told by shelf, tray, row and column, as in tables that hold these
 * apart: `2`, `B`, `C` or 3, 7. The tray may bear its shelf (`2B`, `Tray 2B`); a rack of one shelf
 * needs none. What is no place gives a code that no pot has.
 */
export function placeCode(
  { rack }: Pick<Plan, 'rack'>,
  shelf = '',
  tray = '',
  row = '',
  column = '',
): string {
  const [, ofTray = '', letter = ''] =
    /(?:^|\s|-)0*(\d*)\s*-?([A-Za-z]{1,2})$/.exec(tray.trim()) ?? [];
  const [, ofShelf = ''] = /(?:^|\s)0*(\d+)$/.exec(shelf.trim()) ?? [];
  const [only, ...others] = rack.shelves;
  const number = ofShelf || ofTray || (only && others.length === 0 ? String(only.number) : '');
  const place = Number(row);
  const written = `${shelf} ${tray} ${row} ${column}`.trim().replace(/\s+/g, ' ');
  if (number === '' || letter === '' || !/^\d+$/.test(column.trim())) return written;
  if (ofShelf !== '' && ofTray !== '' && ofShelf !== ofTray) return written;
  if (Number.isInteger(place) && place > 0) {
    return potCode(Number(number), letter.toUpperCase(), place, Number(column));
  }
  return `${number}${letter}-${row.trim()}${Number(column)}`.toUpperCase();
}
