import type { AcceptedNotice } from '../../../shared-types/plan';
import { noticeKey } from '../queries/noticeKey';

type NoticeKey = Pick<AcceptedNotice, 'kind' | 'about'>;

/** The same kind of notice about the same things, in whatever order they are named. */
export function sameNotice(a: NoticeKey, b: NoticeKey): boolean {
  return noticeKey(a) === noticeKey(b);
}
