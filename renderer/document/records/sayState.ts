import type { Mark, PotNote } from '../../../shared-types/records';
import { sayDay } from '../../words';

/** `dead since 2026-03-19, snapped`; null: `alive`. */
export function sayMark(mark: Mark | null): string {
  if (!mark) return 'alive';
  const since = mark.date === null ? '' : ` since ${sayDay(mark.date)}`;
  const { reason } = mark;
  return `${mark.mark}${since}${reason === '' ? '' : `, ${reason}`}`;
}

/** The text of a note with the files it names; null: `no note`. */
export function sayNote(note: PotNote | null): string {
  if (!note) return 'no note';
  return [note.text, ...note.files].filter((part) => part !== '').join(' | ');
}
