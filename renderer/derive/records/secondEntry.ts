import type { Notice } from '../../../shared-types/notice';
import { secondEntryOf } from '../../document/queries/records';
import { memo } from '../memo';

/** The plan as the second person may see it; the same object while the plan stays. */
export const blindPlan = memo(secondEntryOf);

/** Notices without those that tell what the first person has entered. */
export function blindNotices(notices: readonly Notice[]): Notice[] {
  return notices.filter(({ stage }) => stage !== 'records' && stage !== 'findings');
}
