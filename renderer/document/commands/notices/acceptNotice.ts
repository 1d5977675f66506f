import { Refusal, type Command } from '../../command';
import { inItsRun, isAccepted } from '../../queries/acceptedIn';
import type { AcceptedNotice } from '../../../../shared-types/plan';

/** Accepts a notice with the reason that the report will print; a second reason replaces the first. */
export const acceptNotice: Command<AcceptedNotice> = {
  name: 'acceptNotice',
  label: ({ kind }) => `Accept notice ${kind}`,
  run: (plan, notice) => {
    const reason = notice.reason.trim();
    if (reason === '') throw new Refusal('A notice is accepted with a reason; write one.');
    const others = plan.acceptedNotices.filter((other) => !isAccepted(plan, other, notice));
    const accepted = inItsRun(plan, { ...notice, reason });
    return { ...plan, acceptedNotices: [...others, accepted] };
  },
};
