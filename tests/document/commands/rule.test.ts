import { describe, expect, it } from 'vitest';
import * as commands from '../../../renderer/document/commands';
import { readPlan, sayProblem, writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import type { Contrast } from '../../../shared-types/trial/trial';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { refusal, run } from '../../builders/run';

const { editMeasurement, editTrial, enterValues, fixRule, releaseRule, setContrasts } = commands;

const clayOverBark: Contrast = {
  name: 'clay over bark',
  weights: [
    { levelId: 'v4', weight: 1 },
    { levelId: 'v3', weight: -1 },
  ],
};
const planned = run(samplePlan(), setContrasts, { factorId: 'f2', contrasts: [clayOverBark] });
const fixed = run(planned, fixRule, { date: '2026-03-01' });
const contrastsOf = (plan: Plan) => plan.trial?.factors[1]?.contrasts ?? [];

describe('the rule of the analysis', () => {
  it('is fixed with its date, the values recorded by then, and its planned comparisons', () => {
    expect(fixed.trial?.analysisLocked).toEqual({ date: '2026-03-01', valuesThen: 0 });
    expect(contrastsOf(fixed)).toEqual([{ ...clayOverBark, preSpecified: true }]);
    const read = readPlan(writePlan(fixed));
    expect(read.ok && read.plan).toEqual(fixed);
    const recorded = run(drawnPlan(), enterValues, {
      measurementId: 'm2',
      entries: [{ potId: 't1:1:1', value: 12 }],
    });
    const late = run(recorded, fixRule, { date: '2026-05-01' });
    expect(late.trial?.analysisLocked).toEqual({ date: '2026-05-01', valuesThen: 1 });
    expect(refusal(fixed, fixRule, { date: '2026-03-02' })).toMatch(/locked since 2026-03-01/);
    const nothing = run(samplePlan(), editTrial, { patch: { primaryOutcomeId: null } });
    expect(refusal(nothing, fixRule, { date: '2026-03-02' })).toMatch(/which measurement/);
  });

  it('remembers values that were cleared before it was fixed', () => {
    const entry = (value: number | null) => ({
      measurementId: 'm2',
      entries: ['t1:1:1', 't1:1:2'].map((potId) => ({ potId, value })),
    });
    const cleared = run(run(drawnPlan(), enterValues, entry(12)), enterValues, entry(null));
    const late = run(cleared, fixRule, { date: '2026-05-01' });
    expect(late.trial?.analysisLocked).toEqual({ date: '2026-05-01', valuesThen: 2 });
    const read = readPlan(writePlan(late));
    expect(read.ok && read.plan).toEqual(late);
    const never = run(drawnPlan(), enterValues, entry(null));
    expect(run(never, fixRule, { date: '2026-05-01' }).trial?.analysisLocked?.valuesThen).toBe(0);
  });

  it('leaves an entry in the log that nobody can change or remove', () => {
    const released = run(fixed, releaseRule, { date: '2026-03-05', reason: 'wrong scale' });
    const incidentId = released.records.incidents[0]?.id ?? '';
    const stays = /wrote this entry, so it stays/;
    expect(refusal(released, commands.removeIncident, { incidentId })).toMatch(stays);
    const patch = { text: 'nothing' };
    expect(refusal(released, commands.editIncident, { incidentId, patch })).toMatch(stays);
    const incident = { date: '2026-03-06', text: 'a fan stood still', about: [] };
    const own = run(released, commands.addIncident, incident);
    const mine = own.records.incidents.find((one) => one.text === incident.text)?.id ?? '';
    expect(refusal(own, commands.removeIncident, { incidentId: mine })).toBe('done');
  });

  it('stays while it is fixed, planted or not', () => {
    const patches = [
      { primaryPosition: 'linear' as const },
      { primaryIndex: 'gain' as const },
      { startCovariate: !fixed.trial?.startCovariate },
      { wetDepthCovariate: true },
      { alpha: 0.1 },
      { primaryOutcomeId: null },
    ];
    for (const patch of patches) {
      expect(refusal(samplePlan(), editTrial, { patch })).toBe('done');
      expect(refusal(fixed, editTrial, { patch })).toMatch(
        /^The analysis is locked since 2026-03-01, so .* stays; unlock the analysis/,
      );
    }
    const scale = { measurementId: 'm2', patch: { scale: 'log' as const } };
    expect(refusal(fixed, editMeasurement, scale)).toMatch(/so the scale of the answer stays/);
    expect(refusal(fixed, editTrial, { patch: { question: 'Which?' } })).toBe('done');
  });

  it('keeps its comparisons, and tells later ones from them', () => {
    const ask = (contrasts: Contrast[]) =>
      refusal(fixed, setContrasts, { factorId: 'f2', contrasts });
    expect(ask([])).toMatch(/so its comparison clay over bark stays/);
    const later = { ...clayOverBark, name: 'afterthought' };
    const more = run(fixed, setContrasts, {
      factorId: 'f2',
      contrasts: [...contrastsOf(fixed), later],
    });
    expect(contrastsOf(more).map(({ preSpecified: mark }) => mark ?? false)).toEqual([true, false]);
  });

  it('is released with a reason, which goes into the log', () => {
    expect(refusal(fixed, releaseRule, { date: '2026-03-05', reason: ' ' })).toMatch(/reason/);
    expect(refusal(planned, releaseRule, { date: '2026-03-05', reason: 'x' })).toMatch(
      /not locked/,
    );
    const free = run(fixed, releaseRule, { date: '2026-03-05', reason: 'new lamp' });
    expect(free.trial?.analysisLocked).toBeUndefined();
    expect(contrastsOf(free)).toEqual([clayOverBark]);
    expect(free.records.incidents.at(-1)?.text).toBe(
      'Analysis unlocked (locked on 2026-03-01): new lamp',
    );
    expect(refusal(free, editTrial, { patch: { alpha: 0.1 } })).toBe('done');
  });

  it('takes a scale for a measurement, and gives it up without a trace', () => {
    const logged = run(samplePlan(), editMeasurement, {
      measurementId: 'm2',
      patch: { scale: 'log' },
    });
    expect(logged.trial?.measurements[1]?.scale).toBe('log');
    const back = run(logged, editMeasurement, { measurementId: 'm2', patch: { scale: undefined } });
    expect(back).toEqual(samplePlan());
  });
});

describe('a plan whose analysis names what is not there', () => {
  const said = (change: (factor: Record<string, unknown>) => void): string => {
    const plan = structuredClone(samplePlan());
    const factor = plan.trial?.factors[1];
    if (!factor) throw new Error('the sample has two factors');
    change(factor);
    const read = readPlan(writePlan(plan));
    return read.ok ? 'opened' : sayProblem(read.problem);
  };
  const withWeights = (weights: { levelId: string; weight: number }[]) =>
    said((factor) => (factor['contrasts'] = [{ name: 'x', weights }]));

  it('is refused, with the place, what was found and what is expected', () => {
    expect(said((factor) => (factor['control'] = 'v9'))).toBe(
      'trial.factors[1].control: found "v9", expected the id of one of the levels of "medium", or no control.',
    );
    expect(said((factor) => (factor['control'] = 'v1'))).toMatch(/control: found "v1"/);
    const stray = [
      { levelId: 'v3', weight: 1 },
      { levelId: 'v9', weight: -1 },
    ];
    expect(withWeights(stray)).toBe(
      'trial.factors[1].contrasts[0].weights[1].levelId: found "v9", expected the id of one of the levels of "medium".',
    );
    const twice = stray.map((part) => ({ ...part, levelId: 'v3' }));
    expect(withWeights(twice)).toMatch(/found "v3" once more, expected every level once/);
    const uneven = clayOverBark.weights.map((part) => ({ ...part, weight: 1 }));
    expect(withWeights(uneven)).toMatch(/found weights that add up to 2, expected weights that/);
    const zero = clayOverBark.weights.map((part) => ({ ...part, weight: 0 }));
    expect(withWeights(zero)).toMatch(/not all 0/);
    expect(said((factor) => (factor['contrasts'] = [clayOverBark, clayOverBark]))).toMatch(
      /contrasts\[1\]\.name: found "clay over bark", expected a name that no other comparison has/,
    );
    expect(withWeights(clayOverBark.weights)).toBe('opened');
  });
});
