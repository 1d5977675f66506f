import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { floodOf, ringedThings, wetDepthByPotOf } from '../../derive';
import { fixed, shownIn } from '../../words';

/** The rack at its fullest: water in every tray, and at each pot how deep it stands there. */
export function floodLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const system = plan.display.lengths;
  const waterMm = new Map<string, number>();
  for (const tray of floodOf(plan)?.trays.values() ?? []) {
    if (tray.inflowLMin > 0) waterMm.set(tray.trayId, Math.max(0, tray.peakMm));
  }
  const potPaint = new Map<string, PotPaint>();
  for (const [potId, depthMm] of wetDepthByPotOf(plan)) {
    const dry = depthMm <= 0;
    potPaint.set(potId, {
      fill: dry ? '#ffffff' : '#cfe3ee',
      ink: '#17211f',
      letter: fixed(shownIn('length', system, depthMm), system === 'metric' ? 0 : 1),
      ...(dry ? { dim: true } : {}),
    });
  }
  return { potPaint, waterMm, ringed: ringedThings(notices, 'flood'), editable: false };
}
