import { noticeLabels } from '../../shared-types/noticeLabels';
import type { Notice, NoticeKind } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { blindedSince } from '../document/queries/blinding';
import { hasSettings } from '../engine/treated';
import { capital } from '../words';

/** Kinds whose sentences compare treatments, or say which unit has which. */
const COMPARES: readonly NoticeKind[] = [
  ...(['dead-uneven', 'harvest-spread', 'factor-not-replicated', 'carrier-shared'] as const),
  ...(['treatment-not-applied', 'factors-confounded', 'treatment-confounded-with-light'] as const),
  ...(['edge-share-unequal', 'start-size-unbalanced', 'unequal-replication'] as const),
];

/** What is judged on the rack as treated: its figures are those of a level. */
const AS_TREATED: readonly NoticeKind[] = [
  ...(['canopy-reaches-lamp', 'lamp-outside-bay', 'lamp-crosses-board'] as const),
  ...(['pots-overlap', 'pot-outside-tray'] as const),
];

/**
 * The notices that may be told of a plan. While it is blinded, those that compare treatments wait, and
 * those of a rack that treatments change keep their figures to themselves; what is wrong is told.
 */
export function noticesToTell(plan: Plan, notices: readonly Notice[]): readonly Notice[] {
  if (blindedSince(plan) === null) return notices;
  const changed = hasSettings(plan.trial);
  return notices
    .filter(({ stage, kind }) => stage !== 'findings' && !COMPARES.includes(kind))
    .map((notice) =>
      changed && isAsTreated(notice)
        ? { ...notice, text: `${capital(noticeLabels[notice.kind])}.`, remedy: LOOK_THERE }
        : notice,
    );
}

const LOOK_THERE =
  'Look at the rack itself. The figures would tell treatments; they wait until the blinding is opened.';

const isAsTreated = ({ stage, kind }: Notice): boolean =>
  stage === 'light' || stage === 'flood' || AS_TREATED.includes(kind);

/** The rack and layout as they may be shown: of a blinded trial the rack as drawn, given nothing. */
export const layoutToTell = (plan: Plan): Plan['layout'] =>
  blindedSince(plan) === null ? plan.layout : null;
