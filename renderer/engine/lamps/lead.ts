import type { LeadEnd } from '../../../shared-types/landmarks';
import type { Lamp, LampKind, Side } from '../../../shared-types/rack';
import { litSides, litSize } from './size';

/** Where a lamp's lead leaves it, on the shelf, and the side of the shelf that this end points to. */
export interface LampLead {
  xMm: number;
  yMm: number;
  towards: Side;
}

/** Null: not said, or a lamp that has no ends. */
export function leadOf(lamp: Lamp, kind: LampKind): LampLead | null {
  if (lamp.leadEnd === undefined || !litSides(kind.shape).includes('length')) return null;
  const away = directionOf(lamp.leadEnd, lamp.rotationDeg);
  const reach = litSize(kind).lengthMm / 2;
  return {
    xMm: lamp.xMm + reach * away.x,
    yMm: lamp.yMm + reach * away.y,
    towards: endSide(lamp.leadEnd, lamp.rotationDeg),
  };
}

/** The side of the shelf that an end of a lamp points to once it is turned. */
export function endSide(end: LeadEnd, rotationDeg: number): Side {
  const { x, y } = directionOf(end, rotationDeg);
  if (Math.abs(x) >= Math.abs(y)) return x > 0 ? 'right' : 'left';
  return y > 0 ? 'back' : 'front';
}

/** Which way along an unturned lamp an end lies. */
const SIGN: Record<LeadEnd, 1 | -1> = { left: -1, right: 1 };

/** Lamps turn anticlockwise, seen from above. */
function directionOf(end: LeadEnd, rotationDeg: number): { x: number; y: number } {
  const turn = (rotationDeg * Math.PI) / 180;
  return { x: SIGN[end] * Math.cos(turn), y: SIGN[end] * Math.sin(turn) };
}
