import type { Notice, Severity, Stage } from '../../shared-types/notice';

const GRAVITY: Readonly<Record<Severity, number>> = { note: 0, warn: 1, stop: 2 };

/**
 * What the canvas rings: the things that a stage's notices are about, the gravest where several
 * speak of one thing. Accepted notices ring nothing.
 */
export function ringsOf(notices: readonly Notice[], stage: Stage): Map<string, Severity> {
  const rings = new Map<string, Severity>();
  for (const notice of notices) {
    if (notice.stage !== stage || notice.accepted !== undefined) continue;
    for (const ref of notice.about) {
      const known = rings.get(ref);
      if (known === undefined || GRAVITY[notice.severity] > GRAVITY[known]) {
        rings.set(ref, notice.severity);
      }
    }
  }
  return rings;
}
