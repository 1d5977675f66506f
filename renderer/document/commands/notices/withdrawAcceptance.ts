import type { Command } from '../../command';
import { isAccepted } from '../../queries/acceptedIn';
import type { AcceptedNotice } from '../../../../shared-types/plan';

export const withdrawAcceptance: Command<Pick<AcceptedNotice, 'kind' | 'about'>> = {
  name: 'withdrawAcceptance',
  label: ({ kind }) => `No longer accept notice ${kind}`,
  run: (plan, notice) => {
    const others = plan.acceptedNotices.filter((other) => !isAccepted(plan, other, notice));
    return others.length === plan.acceptedNotices.length
      ? plan
      : { ...plan, acceptedNotices: others };
  },
};
