import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { bind } from '../../document';
import { editFlood } from '../../document/commands';
import { say } from '../../words';
import { floodRemediesOf } from '../flood/mends';
import { potsOf } from '../trial/trial';
import { idsIn, type Remedy } from './remedy';

/** What hours, depth or reservoir do about a flood, and what a level or a stick settles. */
export function floodRemedyOf({ kind, about }: Notice, plan: Plan): Remedy | null {
  const { flood } = plan;
  if (!flood) return null;
  const trayIds = idsIn(about, 'tray');
  switch (kind) {
    case 'overtops':
    case 'too-shallow':
    case 'leaf-line-wet':
    case 'roots-too-wet':
    case 'pot-rim-wet':
    case 'never-fills':
    case 'never-drains':
    case 'reservoir-too-small': {
      const zone = flood.zones.find((one) => one.trayIds.some((id) => trayIds.includes(id)));
      return (zone && floodRemediesOf(plan, zone.id)[0]) ?? null;
    }
    case 'root-zone-over-pot': {
      const heights = potsOf(plan)
        .filter(({ trayId }) => trayIds.includes(trayId))
        .map(({ heightMm }) => heightMm);
      const lowest = Math.min(...heights);
      if (!Number.isFinite(lowest)) return null;
      return {
        label: `Root zone up to ${say('length', plan.display.lengths, lowest)}`,
        command: bind(editFlood, { patch: { rootZoneTopMm: lowest } }),
      };
    }
    case 'tray-not-level':
      return {
        label: 'It has been levelled',
        command: bind(editFlood, {
          patch: { slopes: flood.slopes.filter(({ trayId }) => !trayIds.includes(trayId)) },
        }),
      };
    default:
      return null;
  }
}
