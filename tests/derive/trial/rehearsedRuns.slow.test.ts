import { expect, it } from 'vitest';
import { rehearsePlanned } from '../../../renderer/derive/trial/rehearsal';
import type { TrialInput } from '../../../renderer/engine/trial';
import { factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 2, columns: 4 });
const trial = trialOf(
  [
    factorOf(1, 'shelf', 2, { name: 'lamps', appliedThrough: 'light' }),
    factorOf(2, 'pot', 2, { name: 'medium' }),
  ],
  { scheme: 'split-plot' },
);

function rehearsed(grown: TrialInput['grown']) {
  const { factors, notes } = rehearsePlanned({
    ...inputOf(rack, trial),
    grown,
    wetDepthByPot: new Map(),
    model: {
      perUmol: 0,
      edgeEffect: 0,
      plantSd: 3,
      traySd: 0,
      shelfSd: 2,
      deadShare: 0.05,
      startCorrelation: 0,
    },
    effects: { levels: { f1: { l101: 0, l102: 5 } }, interactions: [] },
    runs: 300,
    seed: 'rehearsed runs',
  });
  expect(notes).toEqual([]);
  return new Map(factors.map((factor) => [factor.name, factor]));
}

// 300 runs of a test at 5 %: standard error 0.013; three of them either way.
it('rehearses swapped runs with the analysis of all of them together', () => {
  const once = rehearsed(undefined);
  const three = rehearsed({ count: 3, swapped: 'f1' });
  for (const name of ['lamps', 'medium']) {
    const share = three.get(name)?.falseAlarm?.share ?? 1;
    expect(share).toBeGreaterThan(0.012);
    expect(share).toBeLessThan(0.088);
  }
  expect(three.get('lamps')?.errorTerm).toBe('between shelves in runs');
  expect(three.get('lamps')?.power?.share).toBeGreaterThan(
    (once.get('lamps')?.power?.share ?? 1) + 0.3,
  );
  // Whoever takes each pot for a unit cries over the worth of the shelves in a run.
  expect(three.get('lamps')?.potsAsUnits?.falseAlarm.share).toBeGreaterThan(0.2);
});
