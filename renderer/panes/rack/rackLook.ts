import type { Notice } from '../../../shared-types/notice';
import type { RackLook } from '../../canvas';
import { ringsOf } from '../../canvas';

/** The bare rack, with rings round what the rack's own notices are about. */
export function rackLook(notices: readonly Notice[]): RackLook {
  return { ringed: ringsOf(notices, 'rack'), editable: true };
}
