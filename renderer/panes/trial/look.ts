import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { blocksOfPlan, ringedThings } from '../../derive';
import { treatmentLook } from '../../ui';

/** The rack seen as blocks: pots of one block share a tint and a number. */
export function blockLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const blocks = blocksOfPlan(plan);
  const potPaint = new Map<string, PotPaint>();
  if (blocks.ok) {
    blocks.value.forEach((block, index) => {
      const look = treatmentLook(index);
      for (const id of block.potIds) {
        potPaint.set(id, {
          fill: look.colour,
          ink: look.ink,
          letter: String(index + 1),
          words: `block ${index + 1}, ${block.name}`,
        });
      }
    });
  }
  return { potPaint, ringed: ringedThings(notices, 'trial'), editable: false };
}
