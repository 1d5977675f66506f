import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import type { Locale } from '../../shared-types/window/locale';
import { deliveredIn } from '../../renderer/derive';
import { memo } from '../../renderer/derive/memo';
import { measurementHead, measurementLabel } from '../../renderer/document/queries';
import { readTyped } from '../../renderer/document/records';
import { readLength } from '../../renderer/ui/fields/length';
import { readNumberText } from '../../renderer/ui/fields/readNumberText';
import {
  axisNumber,
  fieldNumber,
  figures,
  fixed,
  formatEstimate,
  formatP,
  lengthNumber,
  list,
  localeOf,
  ownFrom,
  percent,
  plainFixed,
  readTypedDay,
  rounded,
  sayDay,
  sayInstant,
  say,
  speakAs,
  STANDARD,
  shownIn,
  withSign,
} from '../../renderer/words';
import { newTrial } from '../../renderer/document/newTrial';

const GERMAN: Locale = { decimal: ',', days: 'day-first', weekStart: 'monday' };

afterEach(() => speakAs(STANDARD));

/** What a field takes from a text, or the sentence that it asks. */
const taken = (text: string, step: number) => {
  const read = readNumberText(text, step);
  return read.ok ? read.value : read.expected;
};

describe('what is usual where a language belongs', () => {
  // Unicode CLDR 44: numbers (decimal), calendar (short dates), supplemental weekData firstDay.
  it.each<[string, ...string[]]>([
    ['de-DE', ',', 'day-first', 'monday'],
    ['de-CH', '.', 'day-first', 'monday'],
    ['en-US', '.', 'month-first', 'sunday'],
    ['en-GB', '.', 'day-first', 'monday'],
    ['en-CA', '.', 'iso', 'sunday'],
    ['sv-SE', ',', 'iso', 'monday'],
    ['pt-BR', ',', 'day-first', 'sunday'],
    ['ar-EG', '.', 'day-first', 'saturday'],
  ])('%s: decimals with %s, days %s, weeks from %s', (language, decimal, days, weekStart) => {
    expect(localeOf(language)).toMatchObject({ decimal, days, weekStart });
  });

  it('is as in files where the computer names no language', () => {
    expect(localeOf('?')).toEqual({ ...STANDARD, units: 'metric' });
    expect(localeOf('')).toEqual({ ...STANDARD, units: 'metric' });
  });

  it('has inches where CLDR has them', () => {
    const languages = ['en-US', 'es-US', 'en-GB', 'en-CA', 'de', '?'];
    expect(languages.map((language) => localeOf(language).units)).toEqual([
      'imperial',
      'imperial',
      'metric',
      'metric',
      'metric',
      'metric',
    ]);
  });
});

describe('numbers with a decimal comma', () => {
  it('are said so by every formatter, and by none that a machine reads', () => {
    speakAs(GERMAN);
    expect([fixed(-12.5, 2), figures(0.0345), figures(1.5e9), percent(0.125, 1)]).toEqual([
      '−12,50',
      '0,0345',
      '1,50 × 10⁹',
      '12,5 %',
    ]);
    expect(formatEstimate(10.2143, 7.8461, 12.5825, 'g')).toBe('10,2 g (7,8 to 12,6)');
    expect([formatP(0.0496, 0.05), formatP(1e-9, 0.05), withSign(0.31, 1)]).toEqual([
      '0,0496',
      '< 0,001',
      '+0,3',
    ]);
    expect([say('volume', 'imperial', 10), lengthNumber(-12.5, 'metric')]).toEqual([
      '2,64 gal',
      '-12,5',
    ]);
    expect([plainFixed(1.5, 2), rounded(1.25, 1)]).toEqual(['1.50', 1.3]);
    expect(['1,000.5', '0.5', '−20', '1,000', '2A', '3.5 g'].map(axisNumber)).toEqual([
      '1000,5',
      '0,5',
      '−20',
      '1000',
      '2A',
      '3.5 g',
    ]);
    expect(list(['1,5 g', '2,5 g', '3 g'])).toBe('1,5 g; 2,5 g and 3 g');
  });

  it('are read with either sign where there is one reading, else asked about', () => {
    // step, text, by point, by comma: what is taken, or what is asked.
    const either = (one: string, other: string) =>
      expect.stringMatching(`Type ${one} or ${other.replace('.', '\\.')}\\.$`) as string;
    const cases: [number, string, number | string, number | string][] = [
      [0.001, '1.5', 1.5, 1.5],
      [0.001, '1,5', 1.5, 1.5],
      [0.001, '1.234', 1.234, either('1234', '1,234')],
      [0.001, '1,234', either('1234', '1.234'), 1.234],
      [0.1, '1.234', either('1234', '1.2'), either('1234', '1,2')],
      [0.1, '1,234', either('1234', '1.2'), either('1234', '1,2')],
      [0.001, '1.234,5', 1234.5, 1234.5],
      [0.001, '1,234.5', 1234.5, 1234.5],
      [0.001, '0.234', 0.234, 0.234],
      [0.001, '1234', 1234, 1234],
    ];
    for (const [step, text, byPoint, byComma] of cases) {
      speakAs(STANDARD);
      expect(taken(text, step), `${text} by point`).toEqual(byPoint);
      speakAs(GERMAN);
      expect(taken(text, step), `${text} by comma`).toEqual(byComma);
    }
  });

  it('come back from a field as they were, whatever the sign', () => {
    const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(
        finite,
        fc.integer({ min: 0, max: 6 }),
        fc.constantFrom(STANDARD, GERMAN),
        fc.constantFrom('metric' as const, 'imperial' as const),
        (any, decimals, locale, system) => {
          speakAs(locale);
          const value = rounded(any, decimals);
          expect(taken(fieldNumber(value), 10 ** -decimals)).toBe(value);
          const shown = lengthNumber(value, system);
          const read = readLength(shown, system);
          expect(read.ok && lengthNumber(read.mm, system)).toBe(shown);
        },
      ),
    );
  });

  it('are told so of what is typed at the balance', () => {
    speakAs(GERMAN);
    const [first] = newTrial({ start: 'm1', harvest: 'm2' }, 'q').measurements;
    if (!first) throw new Error('a new trial measures a weight');
    const weight = { ...first, unit: 'g', decimals: 1 };
    expect(readTyped('12,54', weight)).toMatchObject({ value: 12.5, remark: '12,54 kept as 12,5' });
    expect(readTyped('12.54', weight)).toMatchObject({ value: 12.5, remark: '12.54 kept as 12,5' });
    expect(readTyped('30', weight, 2.25)).toMatchObject({ remark: '27,8 g without the tare' });
  });
});

describe('imperial units', () => {
  // NIST SP 811 (2008), appendix B.8: exact factors; the US gallon is 231 in³.
  it.each<[Parameters<typeof say>[0], number, number]>([
    ['length', 25.4, 1],
    ['run', 0.3048, 1],
    ['volume', (231 * 2.54 ** 3) / 1000, 1],
    ['flow', (231 * 2.54 ** 3) / 1000, 1],
    ['dose', (231 * 2.54 ** 3) / 128, 1],
    ['mass', 0.45359237, 1],
    ['temperature', 0, 32],
    ['temperature', 100, 212],
    ['temperature', -40, -40],
  ])('%s: %d is %d', (quantity, own, shown) => {
    expect(shownIn(quantity, 'imperial', own)).toBeCloseTo(shown, 9);
    expect(ownFrom(quantity, 'imperial', shown)).toBeCloseTo(own, 9);
  });

  it('say of temperatures how they stand and how far they lie apart', () => {
    const { say: told, sayApart, kept, head } = deliveredIn('temperature', 'imperial');
    expect([told(21.1), sayApart(1.5), kept(70), head]).toEqual([
      '70.0 °F',
      '2.7 °F',
      21.1111,
      'temperature, °F',
    ]);
    expect(told(kept(70), false)).toBe('70.0');
    expect(deliveredIn('ec', 'imperial').say(1.6)).toBe('1.60 mS/cm');
  });
});

describe('days', () => {
  const forms = (['iso', 'day-first', 'month-first'] as const).map((days) => ({
    ...STANDARD,
    days,
  }));
  const typed = (text: string) => {
    const read = readTypedDay(text);
    return read.ok ? read.day : read.expected;
  };

  it('are said by the name of the month, or as ISO 8601 has them', () => {
    const said = forms.map((form) => {
      speakAs(form);
      return [sayDay('2026-03-02'), sayInstant('2026-12-31T23:05:00+02:00'), sayDay('later')];
    });
    expect(said).toEqual([
      ['2026-03-02', '2026-12-31 23:05', 'later'],
      ['2 Mar 2026', '31 Dec 2026 23:05', 'later'],
      ['Mar 2, 2026', 'Dec 31, 2026 23:05', 'later'],
    ]);
  });

  it('come back from a field as they were, and are read in the order in use', () => {
    const readings = forms.map((form) => {
      speakAs(form);
      const day = fc.date({
        min: new Date('1900-01-01'),
        max: new Date('2199-12-31'),
        noInvalidDate: true,
      });
      fc.assert(
        fc.property(day, (one) => {
          const iso = one.toISOString().slice(0, 10);
          expect(typed(sayDay(iso))).toBe(iso);
          expect(typed(iso)).toBe(iso);
        }),
      );
      return ['03/04/2026', '31/03/2026', '3.4.2026', '4 Mär 26'].map(typed);
    });
    const asked = '“03/04/2026” can be 2026-04-03 or 2026-03-04. Type one of these.';
    const others = ['2026-03-31', '2026-04-03', '2026-03-04'];
    expect(readings).toEqual([
      [asked, ...others],
      ['2026-04-03', ...others],
      ['2026-03-04', ...others],
    ]);
    expect(typed('30 Feb 2026')).toBe('A date such as Mar 2, 2026 is expected.');
  });

  it('stay as ISO 8601 has them at the head of a column', () => {
    speakAs(GERMAN);
    const [first] = newTrial({ start: 'm1', harvest: 'm2' }, 'q').measurements;
    if (!first) throw new Error('a new trial measures a weight');
    const between = { ...first, name: 'height', timepoint: 'interim' as const, date: '2026-03-02' };
    expect(measurementLabel(between)).toBe('height between 2 Mar 2026');
    expect(measurementHead(between)).toBe('height between 2026-03-02');
  });
});

it('what was computed is said anew where the sign changes', () => {
  const sentence = memo((value: number) => fixed(value, 1));
  expect(sentence(2.5)).toBe('2.5');
  speakAs(GERMAN);
  expect(sentence(2.5)).toBe('2,5');
  speakAs({ ...GERMAN });
  expect(sentence(2.5)).toBe('2,5');
  speakAs(STANDARD);
  expect(sentence(2.5)).toBe('2.5');
});
