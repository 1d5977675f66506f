import { describe, expect, it } from 'vitest';
import { gradeOf } from '../../../renderer/engine/trial';

const factor = (errorDf: number, units = 3, replicated = true) => ({
  errorDf,
  replicated,
  unitsPerLevel: [
    { levelId: 'a', name: 'a', units },
    { levelId: 'b', name: 'b', units },
  ],
});

// cannot: no error df; weak: under 4 df, or what would show is more than what is wanted; strong: fair
// with 10 df or more.
describe('the grade of a question', () => {
  it('is none without anything to judge it by', () => {
    expect(gradeOf(factor(0), 1, 5)).toBe('cannot');
    expect(gradeOf(factor(1, 1, false), 1, 5)).toBe('cannot');
    expect(gradeOf(factor(5, 0), 1, 5)).toBe('cannot');
  });

  it('turns at 4 and at 10 degrees of freedom', () => {
    expect([1, 3, 4, 9, 10, 90].map((df) => gradeOf(factor(df), 1, 5))).toEqual([
      'weak',
      'weak',
      'fair',
      'fair',
      'strong',
      'strong',
    ]);
  });

  it('is weak where what is wanted would not show, whatever the degrees of freedom', () => {
    expect(gradeOf(factor(90), 5.01, 5)).toBe('weak');
    expect(gradeOf(factor(90), 5, 5)).toBe('strong');
    expect(gradeOf(factor(90), null, null)).toBe('strong');
  });
});
