import { expect, it } from 'vitest';
import { weekStarts } from '../../shared-types/window/locale';
import {
  daysAfter,
  monthName,
  monthsAfter,
  weekdays,
  weekOf,
  weeksOf,
} from '../../renderer/ui/fields/monthOf';

// 2 March 2026 is a Monday (ISO 8601: 2026-W10-1); 29 February 2028 is a Tuesday of a leap year.
it('a month is shown in whole weeks from the day that a week begins with', () => {
  const ends = weekStarts.map((start) => {
    const weeks = weeksOf('2026-03-02', start);
    return [weekdays(start)[0], weeks[0]?.[0], weeks.at(-1)?.[6], weeks.length];
  });
  expect(ends).toEqual([
    ['Monday', '2026-02-23', '2026-04-05', 6],
    ['Sunday', '2026-03-01', '2026-04-04', 5],
    ['Saturday', '2026-02-28', '2026-04-03', 5],
  ]);
  for (const start of weekStarts) {
    const days = weeksOf('2028-02-29', start).flat();
    expect(new Set(days).size).toBe(days.length);
    expect(days.filter((day) => day.startsWith('2028-02')).length).toBe(29);
  }
});

it('days and months go on over their ends', () => {
  expect(daysAfter('2026-12-31', 1)).toBe('2027-01-01');
  expect(daysAfter('2026-03-29', 1)).toBe('2026-03-30');
  expect([1, -1, 12].map((months) => monthsAfter('2028-01-31', months))).toEqual([
    '2028-02-29',
    '2027-12-31',
    '2029-01-31',
  ]);
  expect(monthsAfter('2028-02-29', 12)).toBe('2029-02-28');
  expect([weekOf('2026-03-08', 'monday'), weekOf('2026-03-08', 'sunday')]).toEqual([
    '2026-03-02',
    '2026-03-08',
  ]);
  expect(monthName('2026-03-02')).toBe('March 2026');
});
