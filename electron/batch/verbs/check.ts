import { findingsOfPlan, noticesOfAllRuns } from '../../../renderer/derive';
import { readPlanFile } from '../inputs';
import type { Verb } from '../verb';

export const checkVerb: Verb = {
  name: 'check',
  gives:
    'All notices of all stages and runs of a plan, and whether a stop stands that nobody accepted.',
  takes: ['PLAN'],
  options: {},
  async run(args) {
    const plan = await readPlanFile(args.positional('PLAN'));
    const notices = noticesOfAllRuns(plan, findingsOfPlan(plan));
    const ok = !notices.some((n) => n.severity === 'stop' && n.accepted === undefined);
    return { ok, notices };
  },
};
