import type { AcceptedNotice } from '../../../../shared-types/plan';

type NoticeKey = Pick<AcceptedNotice, 'kind' | 'about'>;

/** The same kind of notice about the same things, in whatever order they are named. */
export function sameNotice(a: NoticeKey, b: NoticeKey): boolean {
  const about = (notice: NoticeKey) => [...notice.about].sort().join(' ');
  return a.kind === b.kind && about(a) === about(b);
}
