import { describe, expect, it } from 'vitest';
import { unitsOfPlan } from '../../../renderer/derive';
import { judgedBy } from '../../../renderer/panes/trial/Skeleton';
import { undrawn } from '../../builders/examplePlans';

function judged(name: 'basil' | 'two-lamps'): [string, string][] {
  const units = unitsOfPlan(undrawn(name));
  if (!units.ok) throw new Error(units.reason);
  const { skeleton } = units.value;
  return skeleton.map((row) => [row.source, judgedBy(row, skeleton)]);
}

describe('the error term of every line', () => {
  it('is the variation between the units that carry it', () => {
    expect(judged('basil')).toEqual([
      ['blocks', 'taken out first'],
      ['feed', 'between trays'],
      ['between trays', 'error term'],
      ['cultivar', 'between pots'],
      ['feed × cultivar', 'between pots'],
      ['between pots', 'error term'],
    ]);
  });

  it('is nothing for one shelf a lamp, however many pots stand on it', () => {
    expect(judged('two-lamps')).toEqual([
      ['lamp', 'nothing'],
      ['between shelves', 'no error term left'],
      ['between pots', 'no factor'],
    ]);
  });
});
