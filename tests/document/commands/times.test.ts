import { describe, expect, it } from 'vitest';
import { editFactor, setTimes } from '../../../renderer/document/commands';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { samplePlan } from '../../builders/samplePlan';
import { refusal, run } from '../../builders/run';

describe('how often a level is drawn', () => {
  const level = (plan: ReturnType<typeof samplePlan>) => plan.trial?.factors[1]?.levels[0];

  it('is kept with the level, also in the file, and leaves no trace when it is once again', () => {
    const levelId = level(samplePlan())?.id ?? '';
    const twice = run(samplePlan(), setTimes, { factorId: 'f2', levelId, times: 2 });
    expect(level(twice)?.times).toBe(2);
    const read = readPlan(writePlan(twice));
    expect(read.ok && read.plan).toEqual(twice);
    const once = run(twice, setTimes, { factorId: 'f2', levelId, times: 1 });
    expect(level(once)).toEqual(level(samplePlan()));
  });

  it('is a whole number from 1 up, of a level that the draw settles', () => {
    const levelId = level(samplePlan())?.id ?? '';
    for (const times of [0, 1.5, -2, 51, NaN]) {
      expect(refusal(samplePlan(), setTimes, { factorId: 'f2', levelId, times })).toContain(
        'a whole number from 1 to 50 is expected',
      );
    }
    const given = run(samplePlan(), editFactor, { factorId: 'f2', patch: { kind: 'fixed' } });
    expect(refusal(given, setTimes, { factorId: 'f2', levelId, times: 2 })).toContain(
      'is fixed by you',
    );
  });
});
