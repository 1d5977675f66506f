import type { Notice } from '../../../../shared-types/notice';
import type { Plan } from '../../../../shared-types/plan';
import { lumensNotices } from '../../lamps';
import { potLight, type PotLight } from '../potLight';
import { targetNotices, unevenNotices } from './evenness';
import { efficacyNotices, photoperiodNotices, problemNotices } from './lamps';
import { surpriseNotices } from './disbelieved';
import { outdatedNotices, outlierNotices, unreadNotices } from './readings';
import { rotaNotices } from './rota';

export { leakNotices, leaksOf, type Leak, type LevelByBay } from './leaks';
export { slipNotices, withheldNotice } from './disbelieved';

/**
 * Everything doubtful about the plan's light. `light` may be passed where it has been computed
 * already; blocks are judged where the plan holds a layout. Silent about trays without pots and
 * shelves without lamps. Lengths are spoken of in the plan's own unit.
 */
export function lightNotices(
  plan: Pick<Plan, 'rack' | 'light'> & Partial<Pick<Plan, 'layout' | 'display'>>,
  light?: PotLight,
): Notice[] {
  const at = light ?? potLight(plan.rack, plan.light);
  const lengths = plan.display?.lengths ?? 'metric';
  const lit = plan.rack.shelves.filter((shelf) => shelf.lamps.length > 0);
  return [
    ...problemNotices(plan.rack, lit, at, lengths),
    ...plan.rack.lampKinds.flatMap(efficacyNotices),
    ...plan.rack.lampKinds.flatMap(lumensNotices),
    ...photoperiodNotices(plan.light, lit),
    ...unevenNotices(plan.rack, lit, plan.light, plan.layout ?? null, at, lengths),
    ...lit.flatMap((shelf) =>
      shelf.trays.flatMap((tray) => targetNotices(shelf, tray, plan.light, at, lengths)),
    ),
    ...lit.flatMap((shelf) => outlierNotices(shelf, plan.light, at, lengths)),
    ...lit.flatMap((shelf) => surpriseNotices(shelf, at)),
    ...rotaNotices(plan.rack, plan.light, lengths),
    ...outdatedNotices(lit, plan.light, at),
    ...unreadNotices(lit, plan.light, at),
  ];
}
