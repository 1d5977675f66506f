import { questionOf } from '../asked';
import type { FindingsInput, Question } from '../question';
import { obstacleOf, type Obstacle } from './obstacle';

/** Why a run cannot enter the answer, said with its name where there are several. */
export function whyNoRun(
  run: FindingsInput,
  question: Question,
  several: boolean,
): { ok: false; missing: string; obstacle?: Obstacle } | null {
  const name = several && run.run !== undefined ? `${run.run}: ` : '';
  if (run.trial.factors.length > 0 && !run.layout) {
    return { ok: false, missing: `${name}No layout has been drawn, so no pot has a treatment.` };
  }
  const own = several ? questionOf(run.trial, question.measurement.id, question.index) : question;
  const obstacle = obstacleOf(run.trial, own ?? question, run.records);
  return obstacle && { ok: false, missing: `${name}${obstacle.text}`, obstacle };
}
