import type { DayForm } from '../../shared-types/window/locale';
import { spokenLocale } from './locale';
import { readDay } from './writtenDays';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const DAY = /^([0-9]{4})-([0-9]{2})-([0-9]{2})/;
const TIME = /^T([0-9]{2}:[0-9]{2})/;

/**
 * A day of ISO 8601, or that of an instant, as it is said: `2 Mar 2026`, `Mar 2, 2026` or
 * `2026-03-02`. Never by numbers alone in an order that could be read twice. What is no day stays.
 */
export function sayDay(iso: string): string {
  return saidAs(spokenLocale().days, iso);
}

function saidAs(form: DayForm, iso: string): string {
  const [, year = '', month = '', day = ''] = DAY.exec(iso) ?? [];
  const name = MONTHS[Number(month) - 1];
  if (name === undefined) return iso;
  switch (form) {
    case 'iso':
      return `${year}-${month}-${day}`;
    case 'day-first':
      return `${Number(day)} ${name} ${year}`;
    case 'month-first':
      return `${name} ${Number(day)}, ${year}`;
  }
}

/** An instant of ISO 8601 by the clock that it was written by: `2 Mar 2026 14:05`. */
export function sayInstant(iso: string): string {
  const [, time] = TIME.exec(iso.slice(10)) ?? [];
  return time === undefined ? sayDay(iso) : `${sayDay(iso)} ${time}`;
}

/** A day as a field shows it while it is empty. */
export const exampleDay = (): string => sayDay('2026-03-02');

/**
 * A day typed by hand, in the usual forms. Numbers whose order matters are read in the order in use;
 * where none is, both days are named. Otherwise `expected` says what may be typed.
 */
export function readTypedDay(
  text: string,
): { ok: true; day: string } | { ok: false; expected: string } {
  const read = readDay(text);
  const { days } = spokenLocale();
  if (read.kind === 'one') return { ok: true, day: read.day };
  if (read.kind === 'two' && days !== 'iso') return { ok: true, day: read.byOrder[days] };
  if (read.kind === 'two') {
    const { 'day-first': one, 'month-first': other } = read.byOrder;
    return {
      ok: false,
      expected: `“${text.trim()}” can be ${one} or ${other}. Type one of these.`,
    };
  }
  return { ok: false, expected: `A date such as ${exampleDay()} is expected.` };
}
