import { describe, expect, it } from 'vitest';
import { placedPotsOf } from '../../../renderer/derive';
import { potByCode } from '../../../renderer/panes/layout/potByCode';
import { example } from '../../builders/examplePlans';

describe('a pot by its code', () => {
  const placed = placedPotsOf(example('basil'));

  it.each(['1A-C4', '1a-c4', ' 1A C4', '1ac4', '1A–C4'])('is found as %j', (typed) => {
    expect(potByCode(placed, typed)).toEqual({ id: 't11:3:4' });
  });

  it('is asked for, or named where there is none', () => {
    expect(potByCode(placed, '  ')).toEqual({
      problem: 'Type the code of a pot, such as 1A-C4.',
    });
    expect(potByCode(placed, '9Z-A1')).toEqual({
      problem: 'No pot of the layout has the code 9Z-A1.',
    });
    expect(potByCode(new Map(), '1A-C4')).toHaveProperty('problem');
  });
});
