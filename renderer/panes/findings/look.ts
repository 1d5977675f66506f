import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { DRAWN_MARK } from '../../canvas/potMarks';
import { ringedThings } from '../../derive';
import type { FindingsOutcome } from '../../engine/findings';
import { signedColour } from '../../ui';
import { fixed } from '../../words';

/** Residuals beyond this many standard deviations get the end of the colour scale. */
export const RESIDUAL_END = 2.5;

/** What is left over at each pot once treatments, blocks and position are allowed for. */
export function findingsLook(
  plan: Plan,
  notices: readonly Notice[],
  outcome: FindingsOutcome | null,
): RackLook {
  const potPaint = new Map<string, PotPaint>();
  if (outcome?.ok) {
    for (const [id, residual] of outcome.findings.residuals) {
      const share = residual / RESIDUAL_END;
      potPaint.set(id, {
        fill: signedColour(share),
        ink: Math.abs(share) > 0.62 ? '#ffffff' : '#17211f',
        letter: `${residual > 0 ? '+' : ''}${fixed(residual, 1)}`,
      });
    }
  }
  for (const [id, mark] of Object.entries(plan.records.marks)) {
    potPaint.set(id, {
      fill: '#d8d8d2',
      ink: '#17211f',
      mark: DRAWN_MARK[mark.mark],
    });
  }
  // Doubts of earlier stages, ringed by the hundred, would hide the residuals: those have their own.
  return { potPaint, ringed: ringedThings(notices, 'findings'), editable: false };
}
