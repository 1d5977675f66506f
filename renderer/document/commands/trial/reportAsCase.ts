import type { Command } from '../../command';
import { factorIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { acceptNotice } from '../notices/acceptNotice';

/** The stops that say that a factor cannot be judged. */
export type UnansweredKind = 'factor-not-replicated' | 'unit-too-few-df';

/** Grows the trial as it is and says in the report that this factor is described, not tested. */
export const reportAsCase: Command<{
  factorId: string;
  kind: UnansweredKind;
  why: string;
  date: string | null;
}> = {
  name: 'reportAsCase',
  label: ({ factorId }, plan) =>
    `Grow it anyway, claim nothing about ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, kind, why, date }) => {
    const { name, unit } = factorIn(plan, factorId);
    return acceptNotice.run(plan, {
      kind,
      about: [`factor:${factorId}`],
      reason: `${why.trim() === '' ? '' : `${why.trim()} `}Nothing is claimed about ${name}: what was seen on these ${unit === 'shelf' ? 'shelves' : `${unit}s`} is described, without a test.`,
      date,
    });
  },
};
