import { Refusal } from '../../command';
import type { Command } from '../../command';
import { standingRecords } from '../../queries/standing';
import { quickPlan } from '../../quickStart/plan';
import { problemsOf } from '../../quickStart/problems';
import { hasSeveralRuns } from '../../runs';
import { quickAnswersSchema, type QuickAnswers } from '../../../../shared-types/window/quickStart';

/** Makes rack, light and trial of a few answers, in place of what stands while nothing is drawn. */
export const quickStart: Command<QuickAnswers> = {
  name: 'quickStart',
  label: () => 'Quick start',
  run: (plan, answers) => {
    if (plan.layout || standingRecords(plan) || hasSeveralRuns(plan)) {
      throw new Refusal('A layout is drawn; the rack is changed on the rack itself from now on.');
    }
    const [issue] = quickAnswersSchema.safeParse(answers).error?.issues ?? [];
    if (issue) throw new Refusal(`${issue.path.join(' ')}: ${issue.message}.`);
    const [problem] = problemsOf(answers, plan.display.lengths);
    if (problem) throw new Refusal(problem.text);
    return quickPlan(plan, answers);
  },
};
