import { unitWords } from '../../../../shared-types/trial/trial';
import type { Factor } from '../../../../shared-types/trial/trial';
import { bind } from '../../../document';
import { applyCommand } from '../../../document/apply';
import { planRuns } from '../../../document/commands';
import { FEWEST_ERROR_DF } from '../../../engine/trial';
import { ONCE } from '../../../engine/trial/input';
import { errorOfSwapped, inRuns } from '../../../engine/trial/inRuns';
import { daysBetween } from '../../../engine/calendar';
import { plural } from '../../../words';
import { questionsOn } from '../questions';
import { grownOf } from '../runs';
import { unitsOfPlan } from '../trial';
import { factorOf, measured, worseThan, type Today, type WayOut } from './way';

/** The same units in as many runs as judge the factor, every level on every unit equally often. */
export function swappedRuns(factor: Factor, today: Today): WayOut | null {
  const { plan } = today;
  const { trial } = plan;
  const now = grownOf(plan);
  const once = unitsOfPlan(plan, ONCE);
  const own = once.ok ? factorOf(once.value, factor.id) : undefined;
  const levels = factor.levels.length;
  if (!trial || !once.ok || !own || own.unitCount < levels) return null;
  // Between runs one factor is swapped; a second one would be told from it in none of them.
  if (now.swapped !== null && now.swapped !== factor.id) return null;
  let runs = levels * Math.ceil((now.count + 1) / levels);
  while (errorOfSwapped(once.value, own, runs) < FEWEST_ERROR_DF) runs += levels;
  const command = bind(planRuns, { runs, swappedFactorId: factor.id });
  const done = applyCommand(plan, command, null);
  if (!done.ok) return null;
  const together = inRuns(once.value, trial, { count: runs, swapped: factor.id });
  const questions = questionsOn(done.plan, together, runs);
  const pots = measured(plan) / now.count;
  const { many } = unitWords[own.unit];
  return {
    title: `Grow it ${runs} times, levels of ${factor.name} swapped each time`,
    says: `The levels move on by one of the ${many} each time, so that ${many} and runs can be told from ${factor.name}. ${runs} runs leave ${errorOfSwapped(once.value, own, runs)} degrees of freedom to judge it by; ${FEWEST_ERROR_DF} are the least.`,
    costs: [weeks(today, runs - now.count), 'nothing to buy'],
    pots: pots * runs,
    morePots: pots * (runs - now.count),
    skeleton: together.skeleton,
    questions,
    worse: worseThan(today, questions),
    command: () => command,
    after: done.plan,
    price: 20 * runs,
  };
}

function weeks({ plan }: Today, runs: number): string {
  const { startDate, harvestDate } = plan.trial ?? {};
  if (!startDate || !harvestDate) return plural(runs, 'more run');
  return `${Math.ceil((runs * daysBetween(startDate, harvestDate)) / 7)} more weeks`;
}
