import { capital } from './lists';
import type { Mend, Notice, NoticeKind, Severity, Stage } from '../../shared-types/notice';

/** A stage's way to say what is wrong, and what to do: figures belong in the text. */
export function noticesOfStage(stage: Stage) {
  return (
    kind: NoticeKind,
    severity: Severity,
    about: string[],
    text: string,
    remedy: string,
    mend?: Mend,
  ): Notice => ({
    kind,
    severity,
    stage,
    about,
    text: capital(text),
    remedy,
    ...(mend ? { mend } : {}),
  });
}
