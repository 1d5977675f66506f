import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { bind } from '../../document';
import { editTrial, setRota } from '../../document/commands';
import { waysOutOf } from '../trial/waysOut';
import { idsIn, type Remedy } from './remedy';

const USUAL_ALPHA = 0.05;

/** What one command does about a trial: the best way out, the usual figure. */
export function trialRemedyOf({ kind, about }: Notice, plan: Plan): Remedy | null {
  switch (kind) {
    case 'alpha-unusual':
      return { label: 'Take 5 %', command: bind(editTrial, { patch: { alpha: USUAL_ALPHA } }) };
    case 'rota-does-not-fit':
      return { label: 'Drop the rota', command: bind(setRota, { rota: [] }) };
    case 'factor-not-replicated':
    case 'unit-too-few-df':
    case 'carrier-shared':
      return bestWayOut(plan, idsIn(about, 'factor'));
    default:
      return null;
  }
}

/** The first way after which the factors can be judged; what stands in the pots is not redrawn by it. */
function bestWayOut(plan: Plan, factorIds: readonly string[]): Remedy | null {
  if ((plan.layout?.plantedAt ?? null) !== null) return null;
  const answers = waysOutOf(plan).find(({ questions, worse }) => {
    const own = questions.filter(({ factor }) => factorIds.includes(factor.factorId));
    return worse.length === 0 && own.length > 0 && own.every(({ grade }) => grade !== 'cannot');
  });
  return answers ? { label: answers.title, command: answers.command(null) } : null;
}
