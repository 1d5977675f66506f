import { describe, expect, it } from 'vitest';
import { ruleFixedWords, whyRuleIncomplete, ruleWords } from '../../../renderer/derive';
import { editMeasurement, editTrial, releaseRule } from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { example } from '../../builders/examplePlans';

const basil = run(example('basil'), releaseRule, { date: '2026-03-01', reason: 'a test' });
const free: Plan = { ...basil, layout: null };
const said = (plan: Plan) => (plan.trial ? ruleWords(plan, plan.trial) : '');

describe('the rule of the analysis in words', () => {
  it('names what answers, the scale, how position enters and what is allowed for', () => {
    const answers = free.trial?.primaryOutcomeId ?? '';
    const logged = run(free, editMeasurement, {
      measurementId: answers,
      patch: { name: 'Fresh shoot', unit: 'g', scale: 'log' },
    });
    const plan = run(logged, editTrial, {
      patch: { primaryPosition: 'edge', startCovariate: true, wetDepthCovariate: true, alpha: 0.1 },
    });
    expect(said(plan)).toBe(
      'Fresh shoot at harvest; as logarithms; place: edge and inner pots told apart; ' +
        'the value at the start allowed for; the depth of water allowed for; ' +
        'risk of a false alarm 0.1.',
    );
    const growth = run(plan, editTrial, { patch: { primaryIndex: 'relative-growth-rate' } });
    // Growth is analysed as it is, whatever the scale of the measurement.
    expect(said(growth)).toContain('as the relative growth rate; place:');
    expect(said(growth)).not.toContain('logarithms');
  });

  it('says light over the trial where a rota moves the trays', () => {
    const rota = [{ fromDay: 15, toDay: 28, places: {} }];
    const plan = run(free, editTrial, { patch: { primaryPosition: 'light' } });
    expect(said(plan)).toContain('place: the light at each pot;');
    expect(said({ ...plan, light: { ...plan.light, rota } })).toContain(
      'place: the light over the trial with the tray moves;',
    );
  });

  it('tells what is missing, and what was known when it was fixed', () => {
    const none = run(free, editTrial, { patch: { primaryOutcomeId: null } });
    expect(none.trial && whyRuleIncomplete(none.trial)).toMatch(
      /which measurement is the main result/,
    );
    expect(free.trial && whyRuleIncomplete(free.trial)).toBeNull();
    const words = [0, 1, 2].map((valuesThen) => ruleFixedWords({ date: '2026-03-02', valuesThen }));
    expect(words).toEqual([
      'locked on 2026-03-02, before any value was recorded',
      'locked on 2026-03-02, with 1 value recorded already',
      'locked on 2026-03-02, with 2 values recorded already',
    ]);
  });
});
