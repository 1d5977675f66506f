import { findingsOfPlan, noticesOf } from '../../../renderer/derive';
import { readPlanFile } from '../inputs';
import type { Verb } from '../verb';

export const checkVerb: Verb = {
  name: 'check',
  gives: 'All notices of all stages of a plan, and whether a stop stands that nobody accepted.',
  takes: ['PLAN'],
  options: {},
  async run(args) {
    const plan = await readPlanFile(args.positional('PLAN'));
    const notices = noticesOf(plan, findingsOfPlan(plan));
    const ok = !notices.some((n) => n.severity === 'stop' && n.accepted === undefined);
    return { ok, notices };
  },
};
