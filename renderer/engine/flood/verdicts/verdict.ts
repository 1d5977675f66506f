import type { NoticeKind, Severity } from '../../../../shared-types/notice';

/** What the figures say of one thing, in words. */
export interface FloodVerdict {
  topic: string;
  /** Close: it holds, with less than the usual margin. Unknown: a figure is missing. */
  level: 'good' | 'close' | 'bad' | 'unknown';
  text: string;
  /** What to change; empty where nothing need be. */
  remedy: string;
  /** Where it is worth a notice. */
  notice: { kind: NoticeKind; severity: Severity } | null;
}

/** Less spare time than this share of the pump's run, or of the pause, is called close. */
export const CLOSE_SHARE = 0.1;

export function good(topic: string, text: string): FloodVerdict {
  return { topic, level: 'good', text, remedy: '', notice: null };
}

export function close(topic: string, text: string, remedy: string): FloodVerdict {
  return { topic, level: 'close', text, remedy, notice: null };
}

export function unknown(topic: string, text: string, remedy: string): FloodVerdict {
  return { topic, level: 'unknown', text, remedy, notice: null };
}

export function bad(
  topic: string,
  kind: NoticeKind,
  severity: Severity,
  text: string,
  remedy: string,
): FloodVerdict {
  return { topic, level: 'bad', text, remedy, notice: { kind, severity } };
}
