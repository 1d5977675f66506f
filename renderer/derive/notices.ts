import type { Notice, Severity } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { deathNotices, findingsNotices, type FindingsOutcome } from '../engine/findings';
import { rackNotices } from '../engine/geometry';
import { lightNotices } from '../engine/light';
import { layoutNotices, trialNotices } from '../engine/trial';

import { potLightOf } from './light';
import { powerNotices } from '../engine/trial/power';
import { memo } from './memo';
import { powersOf } from './power';
import { recordNotices } from './recordNotices';
import { trialInputOf } from './trial';

const rank: Record<Severity, number> = { stop: 0, warn: 1, note: 2 };

const planNotices = memo((plan: Plan): Notice[] => {
  const found: Notice[] = [...rackNotices(plan.rack), ...lightNotices(plan, potLightOf(plan))];
  const trialInput = trialInputOf(plan);
  if (trialInput) {
    const input = { ...trialInput, layout: plan.layout };
    found.push(...trialNotices(input), ...layoutNotices(input));
    const powers = powersOf(plan);
    if (powers.ok) found.push(...powerNotices(trialInput.trial, powers.value));
  }
  found.push(...recordNotices(plan));
  return found;
});

const allNotices = memo((plan: Plan, outcome: FindingsOutcome | null): Notice[] => {
  const found = [...planNotices(plan)];
  if (outcome?.ok) {
    found.push(...deathNotices(outcome.findings), ...findingsNotices(outcome.findings));
  }
  return found
    .map((notice) => withAcceptance(plan, notice))
    .sort(
      (a, b) =>
        Number(a.accepted !== undefined) - Number(b.accepted !== undefined) ||
        rank[a.severity] - rank[b.severity],
    );
});

/**
 * Every notice of every stage, worst first, accepted ones last. The findings' own notices need the
 * findings, which are long work: they come in once these have been computed.
 */
export function noticesOf(plan: Plan, outcome: FindingsOutcome | null = null): Notice[] {
  return allNotices(plan, outcome);
}

function withAcceptance(plan: Plan, notice: Notice): Notice {
  const key = [...notice.about].sort().join(' ');
  const accepted = plan.acceptedNotices.find(
    (a) => a.kind === notice.kind && [...a.about].sort().join(' ') === key,
  );
  return accepted ? { ...notice, accepted: accepted.reason } : notice;
}

/** Worst severity of each thing that an open notice is about, to ring it on the rack. */
export const ringedThings = memo((notices: readonly Notice[]): ReadonlyMap<string, Severity> => {
  const ringed = new Map<string, Severity>();
  for (const notice of notices) {
    if (notice.accepted !== undefined || notice.severity === 'note') continue;
    for (const ref of notice.about) {
      const known = ringed.get(ref);
      if (!known || rank[notice.severity] < rank[known]) ringed.set(ref, notice.severity);
    }
  }
  return ringed;
});
