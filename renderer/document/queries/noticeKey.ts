import type { AcceptedNotice } from '../../../shared-types/plan';

/** The same for notices of one kind about the same things, in whatever order they are named. */
export function noticeKey({ kind, about }: Pick<AcceptedNotice, 'kind' | 'about'>): string {
  return `${kind} ${[...about].sort().join(' ')}`;
}
