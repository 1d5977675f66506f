import { describe, expect, it } from 'vitest';
import { blockByBlock, dayLag, type DatedPlant } from '../../../renderer/engine/trial/harvestDays';

/** Units of two plants: `A1 B2` are one of A on day 1 and one of B on day 2. */
const units = (text: string, block: (i: number) => string = () => 'all'): DatedPlant[] =>
  text.split(' ').flatMap((word, i) => {
    const plant = { level: word.charAt(0), day: Number(word.slice(1)), unit: `u${i}` };
    return [0, 1].map(() => ({ ...plant, block: block(i) }));
  });

describe('days of harvest against the levels of a factor', () => {
  it('cries where one level comes later than another', () => {
    expect(dayLag(units('A1 A1 A1 B2 B2 B2'))).toEqual({
      kind: 'later',
      early: 'A',
      late: 'B',
      days: 1,
    });
    expect(dayLag(units('A1 A1 A1 A2 B1 B2 B2 B2'))).toMatchObject({ days: 0.5 });
  });

  it('is silent where an odd count of units is split as evenly as it can be', () => {
    expect(dayLag(units('A1 A1 A2 B1 B2 B2'))).toBeNull();
    expect(dayLag(units('A1 A2 B2 B1'))).toBeNull();
    expect(dayLag(units('A1 B2 A3 B3 A4 B4 B1 A2'))).toBeNull();
    expect(dayLag(units('A1 A1 A2 A2'))).toBeNull();
  });

  it('compares within blocks where each holds several levels', () => {
    const pair = (i: number) => (i < 3 ? 'one' : 'two');
    // The second block, a month later, lost one plant of A: means over all would differ by a week.
    expect(dayLag(units('A1 A1 B1 A31 B31 B31', pair))).toBeNull();
    expect(dayLag(units('A1 A1 B2 A31 B32 B32', pair))).toMatchObject({ kind: 'later', late: 'B' });
    const even = (i: number) => (i < 2 ? 'one' : 'two');
    expect(dayLag(units('A1 B2 A31 B32', even))).toMatchObject({ kind: 'later', days: 1 });
  });

  it('cries where a level has a day to itself between the others', () => {
    expect(dayLag(units('A1 A3 B2 B2'))).toEqual({ kind: 'alone', level: 'B', day: 2 });
    expect(dayLag(units('A1 A3 B2 B2 A2 A2'))).toBeNull();
  });

  it('cries over few fair orders: 2 levels of 6 trays, and 24 levels of 4 pots over two days', () => {
    // A generator of Park and Miller (1988), so that the shuffles are the same everywhere.
    let state = 7;
    const next = () => (state = (state * 48271) % 2147483647) / 2147483647;
    const cries = (levels: number, of: number) => {
      let count = 0;
      for (let run = 0; run < 200; run++) {
        const days = Array.from({ length: levels * of }, (_, i) => (i % 2) + 1);
        for (let i = days.length - 1; i > 0; i--) {
          const j = Math.floor(next() * (i + 1));
          [days[i], days[j]] = [days[j] ?? 1, days[i] ?? 1];
        }
        const text = days.map((day, i) => `${String.fromCharCode(65 + (i % levels))}${day}`);
        if (dayLag(units(text.join(' '))) !== null) count++;
      }
      return count / 200;
    };
    // By chance both sides of six trays fall 5 to 1 or worse in 74 of 924 orders.
    expect(cries(2, 6)).toBeLessThan(0.15);
    expect(cries(24, 4)).toBeLessThan(0.25);
  });
});

it('sees blocks that were each harvested on one day', () => {
  const pair = (i: number) => (i < 2 ? 'one' : 'two');
  expect(blockByBlock(units('A1 B1 A2 B2', pair))).toBe(true);
  expect(blockByBlock(units('A1 B1 A2 B3', pair))).toBe(false);
  expect(blockByBlock(units('A1 B1 A1 B1'))).toBe(false);
});
