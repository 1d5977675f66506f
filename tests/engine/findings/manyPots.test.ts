import { expect, it } from 'vitest';
import { MODELS, refuseManyPots } from '../../../renderer/engine/findings';

it('models that relate all pots are left out beside the planned one over 4000 pots, with the reason', () => {
  const refusedAt = (rowCount: number) =>
    MODELS.filter((model) => {
      try {
        refuseManyPots(model, { table: { rowCount } });
        return false;
      } catch (error) {
        expect(String(error)).toContain('with over 4000 pots it takes long');
        return true;
      }
    });
  expect(refusedAt(4000)).toEqual([]);
  expect(refusedAt(4001)).toEqual(['smooth', 'ar1']);
});
