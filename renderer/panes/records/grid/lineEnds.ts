import type { PotOrder } from '../../../document/records';

/** What has just come to its end on the walk along the pots. */
export type LineEnd = 'row' | 'tray' | 'all';

interface Stop {
  id: string;
  trayId: string;
  row: number;
  column: number;
}

/** What ends between two pots of the walk; `next` null: it was the last pot. null: nothing ends. */
export function lineEnd(from: Stop, next: Stop | null, order: PotOrder): LineEnd | null {
  if (!next || next.id === from.id) return 'all';
  if (next.trayId !== from.trayId) return 'tray';
  switch (order) {
    case 'plants':
      return null;
    case 'columns':
      return next.column === from.column ? null : 'row';
    case 'rows':
    case 'there-and-back':
      return next.row === from.row ? null : 'row';
  }
}

/** `End of tray 1A`. */
export function sayLineEnd(end: LineEnd, { code }: { code: string }, order: PotOrder): string {
  const [tray = '', place = ''] = code.split('-');
  switch (end) {
    case 'all':
      return 'Last pot shown';
    case 'tray':
      return `End of tray ${tray}`;
    case 'row':
      return order === 'columns'
        ? `End of column ${place.replace(/^[A-Z]+/, '')}`
        : `End of row ${place.replace(/\d+$/, '')}`;
  }
}
