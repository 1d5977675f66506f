import { expect, it } from 'vitest';
import { unitSpreadWords } from '../../../renderer/panes/trial/power/unitSpreadWords';

it('never takes a spread between units of zero for a fact', () => {
  expect(unitSpreadWords({ sd: 0, upper: 3.14 }, 'trays', 'g')).toBe(
    'No difference between equal trays showed; it may be up to 3.14 g (95 % limit). That limit is taken, to be on the safe side.',
  );
  expect(unitSpreadWords({ sd: 1.5, upper: 4 }, 'trays', 'g')).toBe(
    'Equal trays typically differ by 1.50 g; it may be up to 4.00 g (95 % limit).',
  );
  expect(unitSpreadWords({ sd: 0, upper: 0 }, 'trays', 'g')).toBe(
    'The trays differ even less than their plants would make them: they tell nothing of how much they differ by themselves.',
  );
  expect(unitSpreadWords(null, 'trays', 'g')).toBe('It tells nothing of how much trays differ.');
});
