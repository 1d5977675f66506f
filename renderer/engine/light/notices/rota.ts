import type { LightPlan } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import type { Rack } from '../../../../shared-types/rack';
import { rotaMisfit } from '../rotation';
import { lightNotice } from './lightNotice';
import type { UnitSystem } from '../../../words';

/** Tray moves that the rack as it is now does not allow. */
export function rotaNotices(rack: Rack, light: LightPlan, lengths: UnitSystem): Notice[] {
  const misfit = rotaMisfit(rack, light.rota ?? [], lengths);
  if (misfit === null) return [];
  return [
    lightNotice(
      'rota-does-not-fit',
      'warn',
      ['plan'],
      `The trays cannot be moved as planned: ${misfit}. Light over the trial cannot be told.`,
      'Change that move in the light stage, make the rota anew or drop it.',
    ),
  ];
}
