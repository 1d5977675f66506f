import type { Command } from '../../command';
import { sameNotice } from '../../edits/sameNotice';
import type { AcceptedNotice } from '../../../../shared-types/plan';

export const withdrawAcceptance: Command<Pick<AcceptedNotice, 'kind' | 'about'>> = {
  name: 'withdrawAcceptance',
  label: ({ kind }) => `No longer accept notice ${kind}`,
  run: (plan, notice) => {
    const others = plan.acceptedNotices.filter((other) => !sameNotice(other, notice));
    return others.length === plan.acceptedNotices.length
      ? plan
      : { ...plan, acceptedNotices: others };
  },
};
