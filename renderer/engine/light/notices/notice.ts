import type { Notice, NoticeKind, Severity } from '../../../../shared-types/notice';

/** A notice of the light stage. */
export function notice(
  kind: NoticeKind,
  severity: Severity,
  about: string[],
  text: string,
  remedy: string,
): Notice {
  return { kind, severity, stage: 'light', about, text, remedy };
}
