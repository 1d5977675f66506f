import { noticeLabels } from '../../shared-types/noticeLabels';
import { stageSchema, type Notice, type Severity, type Stage } from '../../shared-types/notice';
import { capital } from '../words';

/** Notices of one kind and severity: one thing that is wrong, in one or more places. */
export interface NoticeGroup {
  key: string;
  /** `Uneven light`, `3 × uneven light`. */
  title: string;
  severity: Severity;
  accepted: boolean;
  notices: readonly [Notice, ...Notice[]];
}

/** What stops the answer, or what else is wrong with a stage. */
export interface NoticeSection {
  of: 'answer' | Stage;
  groups: NoticeGroup[];
}

const rank: Record<Severity, number> = { stop: 0, warn: 1, note: 2 };

/** Open stops of the question itself: no plant answers it while they stand. */
function stopsAnswer({ stage, severity, kind, accepted }: Notice): boolean {
  if (accepted !== undefined) return false;
  if (kind === 'question-not-answerable') return true;
  return severity === 'stop' && (stage === 'trial' || stage === 'layout' || stage === 'findings');
}

/**
 * Notices as they are read: first what stops the answer, then stage by stage, the worst before the
 * others and else in the order of the job; like ones are one group, accepted ones last.
 */
export function noticeSections(notices: readonly Notice[]): NoticeSection[] {
  const sections = new Map<NoticeSection['of'], Notice[]>(
    (['answer', ...stageSchema.options] as const).map((of) => [of, []]),
  );
  for (const notice of notices) {
    sections.get(stopsAnswer(notice) ? 'answer' : notice.stage)?.push(notice);
  }
  return [...sections]
    .flatMap(([of, those]): NoticeSection[] =>
      those.length > 0 ? [{ of, groups: groupsOf(those) }] : [],
    )
    .sort((a, b) => weightOf(a) - weightOf(b));
}

/** The question first, then by the worst that is open. */
function weightOf({ of, groups }: NoticeSection): number {
  if (of === 'answer') return -1;
  return Math.min(...groups.map(({ severity, accepted }) => (accepted ? 3 : rank[severity])));
}

function groupsOf(notices: readonly Notice[]): NoticeGroup[] {
  const groups = new Map<string, [Notice, ...Notice[]]>();
  for (const notice of notices) {
    const key = `${notice.kind} ${notice.severity} ${notice.accepted === undefined ? '' : 'accepted'}`;
    const known = groups.get(key);
    if (known) known.push(notice);
    else groups.set(key, [notice]);
  }
  return [...groups]
    .map(([key, those]): NoticeGroup => {
      const [{ kind, severity, accepted }] = those;
      const label = noticeLabels[kind];
      const title = those.length > 1 ? `${those.length} × ${label}` : capital(label);
      return { key, title, severity, accepted: accepted !== undefined, notices: those };
    })
    .sort((a, b) => Number(a.accepted) - Number(b.accepted) || rank[a.severity] - rank[b.severity]);
}
