import { Refusal, type Command } from '../../command';
import { sameNotice } from '../../edits/sameNotice';
import type { AcceptedNotice } from '../../../../shared-types/plan';

/** Accepts a notice with the reason that the report will print; a second reason replaces the first. */
export const acceptNotice: Command<AcceptedNotice> = {
  name: 'acceptNotice',
  label: ({ kind }) => `Accept notice ${kind}`,
  run: (plan, notice) => {
    const reason = notice.reason.trim();
    if (reason === '') throw new Refusal('A notice is accepted with a reason; write one.');
    const others = plan.acceptedNotices.filter((other) => !sameNotice(other, notice));
    return { ...plan, acceptedNotices: [...others, { ...notice, reason }] };
  },
};
