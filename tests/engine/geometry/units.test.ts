import { describe, expect, it } from 'vitest';
import { ownFrom, say, shownIn, speechIn, unitOf } from '../../../renderer/words';

describe('units of the plan', () => {
  // Exact by definition: NIST Special Publication 811, appendix B.8 (inch 25.4 mm, foot 0.3048 m,
  // pound 0.453 592 37 kg); the others as it prints them, to seven digits.
  it.each([
    ['length', 1, 25.4],
    ['run', 1, 0.3048],
    ['mass', 1, 0.45359237],
    ['volume', 1, 3.785412],
    ['flow', 1, 3.785412],
    ['dose', 1, 29.57353],
    ['density', 1, 16.01846],
    // An inch a foot is one in twelve.
    ['slope', 1, 1000 / 12],
  ] as const)('%s: %s shown is %s kept', (quantity, shown, own) => {
    expect(ownFrom(quantity, 'imperial', shown) / own).toBeCloseTo(1, 6);
    expect(shownIn(quantity, 'imperial', own)).toBeCloseTo(shown, 6);
    expect(ownFrom(quantity, 'metric', shownIn(quantity, 'metric', 12.3))).toBe(12.3);
  });

  it('says figures with their unit and no more digits than they have', () => {
    expect(say('length', 'metric', 39.64)).toBe('39.6 mm');
    expect(say('length', 'imperial', 39.64)).toBe('1.56 in');
    expect(say('length', 'metric', -0.01)).toBe('0 mm');
    expect(say('volume', 'imperial', 37.85411784)).toBe('10 gal');
    expect(say('mass', 'imperial', 45.359237)).toBe('100 lb');
    expect(say('flow', 'metric', 10.0421)).toBe('10 L/min');
    expect(speechIn('imperial').run(0.3048)).toBe('1 ft');
    expect(unitOf('slope', 'imperial')).toBe('in/ft');
  });
});
