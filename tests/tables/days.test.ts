import { expect, it } from 'vitest';
import { dayIn, dayOrder, readDay } from '../../renderer/tables';

it('reads a day in the usual forms', () => {
  const forms = [
    ...[
      '2026-03-31',
      '2026/3/31',
      '31.03.2026',
      '31.3.26',
      '31. 3. 2026',
      '31/03/2026',
      '3/31/2026',
    ],
    ...[
      '31-03-2026',
      '31 March 2026',
      '31. März 2026',
      '31 Mar 26',
      'March 31, 2026',
      '31-Mar-2026',
    ],
    ...['2026-03-31T10:30:00Z', '31.03.2026 14:05', '3/31/2026, 2:05 pm'],
  ];
  for (const form of forms) expect([form, dayIn(form, 'day-first')]).toEqual([form, '2026-03-31']);
});

it('takes nothing for a day that is none', () => {
  const others = [
    '30.02.2026',
    '31/31/2026',
    '2026-13-01',
    '12.5',
    '1A-A1',
    '',
    '29.02.2025',
    'March',
  ];
  for (const text of others) expect([text, readDay(text)]).toEqual([text, { kind: 'none' }]);
  expect(dayIn('29.02.2024', 'day-first')).toBe('2024-02-29');
});

it('tells the order of a column by what one of its days proves, else by a day that is expected', () => {
  const none = new Set<string>();
  expect(dayOrder(['03/04/2026', '13/04/2026'], none)).toBe('day-first');
  expect(dayOrder(['03/04/2026', '03/14/2026'], none)).toBe('month-first');
  expect(dayOrder(['03/04/2026'], none)).toBe(null);
  expect(dayOrder(['03/04/2026'], new Set(['2026-03-04']))).toBe('month-first');
  expect(dayOrder(['03/04/2026'], new Set(['2026-03-04', '2026-04-03']))).toBe(null);
  // The same either way, and forms that leave nothing open.
  expect(dayOrder(['03/03/2026', '03.04.2026'], none)).toBe('either');
});
