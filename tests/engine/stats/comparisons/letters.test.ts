import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compactLetters, holm } from '../../../../renderer/engine/stats/comparisons';

describe('compact letters', () => {
  // Piepho (2004), J. Comput. Graph. Stat. 13, 456-466, defines the display by this alone: two
  // groups share a letter exactly when they do not differ. Any pattern, transitive or not.
  it('joins exactly the groups that do not differ, and no letter is idle', () => {
    const patterns = fc.integer({ min: 1, max: 9 }).chain((count) =>
      fc.record({
        count: fc.constant(count),
        flags: fc.array(fc.boolean(), { minLength: count * count, maxLength: count * count }),
      }),
    );
    fc.assert(
      fc.property(patterns, ({ count, flags }) => {
        const names = Array.from({ length: count }, (_, i) => `g${i}`);
        const differ = (a: number, b: number): boolean =>
          flags[Math.min(a, b) * count + Math.max(a, b)] === true;
        const letters = compactLetters(names, differ);
        const of = (i: number): string[] => [...(letters[`g${i}`] ?? '')];
        for (let a = 0; a < count; a++) {
          expect(of(a).length).toBeGreaterThan(0);
          for (let b = 0; b < a; b++) {
            expect(of(a).some((letter) => of(b).includes(letter))).toBe(!differ(a, b));
          }
        }
        // Minimal: without any one letter some pair would come apart.
        const used = [...new Set(names.flatMap((_, i) => of(i)))];
        for (const letter of used) {
          const needed = names.some((_, a) =>
            names.some(
              (__, b) =>
                of(a).includes(letter) &&
                of(b).includes(letter) &&
                !of(a).some((other) => other !== letter && of(b).includes(other)),
            ),
          );
          expect(needed).toBe(true);
        }
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  it('starts with a at the first group', () => {
    // 1-2 and 2-3 alike, 1-3 different: the chain that one letter a group cannot show.
    expect(compactLetters(['x', 'y', 'z'], (a, b) => Math.abs(a - b) === 2)).toEqual({
      x: 'a',
      y: 'ab',
      z: 'b',
    });
  });
});

// Holm (1979), Scandinavian Journal of Statistics 6, 65-70: p(i) times (m - i + 1), made
// monotone. Worked by hand.
it('steps down after Holm', () => {
  const adjusted = holm([0.01, 0.04, 0.03, 0.005]);
  [0.03, 0.06, 0.06, 0.02].forEach((p, i) => {
    expect(adjusted[i]).toBeCloseTo(p, 12);
  });
});
