import { addFactor, repeatShelves } from '../../renderer/document/commands';
import type { Plan } from '../../shared-types/plan';
import type { Factor, Trial } from '../../shared-types/trial/trial';
import { undrawn } from './examplePlans';
import { run } from './run';

/** Four shelves under two lights, each crop on two of them: every shelf is another combination. */
export function fourShelves(): Plan & { trial: Trial } {
  const grown = run(undrawn('two-lamps'), repeatShelves, { times: 1 });
  const shelfIds = grown.rack.shelves.map(({ id }) => id);
  const withCrop = run(grown, addFactor, {
    name: 'crop',
    kind: 'fixed',
    unit: 'shelf',
    levels: ['cress', 'chard'],
  });
  const full = run(withCrop, addFactor, {
    name: 'medium',
    kind: 'randomised',
    unit: 'pot',
    levels: ['peat', 'coir', 'bark'],
  });
  if (!full.trial) throw new Error('the example has a trial');
  const placed = (factor: Factor, levelAt: (shelf: number) => number): Factor => ({
    ...factor,
    kind: 'fixed',
    where: shelfIds.map((unitId, i) => ({
      unitId,
      levelId: factor.levels[levelAt(i)]?.id ?? '',
    })),
  });
  const factors = full.trial.factors.map((factor): Factor => {
    if (factor.name === 'crop')
      return { ...placed(factor, (i) => (i < 2 ? 0 : 1)), appliedThrough: 'plant' };
    if (factor.appliedThrough === 'light')
      return { ...placed(factor, (i) => i % 2), name: 'light' };
    return factor;
  });
  const expected = { plantSd: 2, unitSd: null, smallestDifference: 4, power: 0.8 };
  const trial: Trial = {
    ...full.trial,
    factors,
    expected,
    scheme: 'split-plot',
    blocks: { by: 'tray' },
  };
  return { ...full, trial };
}
