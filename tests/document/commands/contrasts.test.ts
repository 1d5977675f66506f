import { describe, expect, it } from 'vitest';
import {
  addLevel,
  removeLevel,
  setContrasts,
  setControl,
} from '../../../renderer/document/commands';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { samplePlan } from '../../builders/samplePlan';
import { refusal, run } from '../../builders/run';

const clayOverBark = {
  name: 'clay over bark',
  weights: [
    { levelId: 'v4', weight: 1 },
    { levelId: 'v3', weight: -1 },
  ],
};
const medium = (plan: ReturnType<typeof samplePlan>) => plan.trial?.factors[1];

describe('planned comparisons', () => {
  const planned = run(samplePlan(), setContrasts, { factorId: 'f2', contrasts: [clayOverBark] });

  it('are kept with their factor, also in the file', () => {
    expect(medium(planned)?.contrasts).toEqual([clayOverBark]);
    const read = readPlan(writePlan(planned));
    expect(read.ok && read.plan).toEqual(planned);
  });

  it('must add up to zero, name levels of the factor, and have names of their own', () => {
    const ask = (contrasts: (typeof clayOverBark)[]) =>
      refusal(samplePlan(), setContrasts, { factorId: 'f2', contrasts });
    const uneven = { name: 'sum', weights: clayOverBark.weights.map((w) => ({ ...w, weight: 1 })) };
    expect(ask([uneven])).toMatch(/add up to 2; they must add up to 0/);
    const foreign = {
      name: 'x',
      weights: [
        { levelId: 'v1', weight: 1 },
        { levelId: 'v3', weight: -1 },
      ],
    };
    expect(ask([foreign])).toMatch(/medium has no level with the id v1/);
    expect(ask([clayOverBark, clayOverBark])).toMatch(/called clay over bark already/);
  });

  it('go when a level that they use goes, and so does the control', () => {
    const three = run(planned, addLevel, { factorId: 'f2', name: 'coir' });
    const controlled = run(three, setControl, { factorId: 'f2', levelId: 'v3' });
    expect(medium(controlled)?.control).toBe('v3');
    const without = run(controlled, removeLevel, { factorId: 'f2', levelId: 'v3' });
    expect(medium(without)?.contrasts).toBeUndefined();
    expect(medium(without)?.control).toBeUndefined();
  });

  it('leave no trace when taken back', () => {
    const none = run(planned, setContrasts, { factorId: 'f2', contrasts: [] });
    expect(none).toEqual(samplePlan());
    const back = run(run(samplePlan(), setControl, { factorId: 'f2', levelId: 'v4' }), setControl, {
      factorId: 'f2',
      levelId: null,
    });
    expect(back).toEqual(samplePlan());
  });
});
