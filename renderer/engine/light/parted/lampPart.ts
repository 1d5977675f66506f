import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { litSize } from '../../lamps';
import { lampFrameOf } from '../sources/frame';

/** From and to, mm from the middle of the lit face. */
export type Reach = readonly [from: number, to: number];

/** A piece of a lamp's lit face, as a lamp of its own. */
export interface LampPart {
  lamp: Lamp;
  kind: LampKind;
  /** Of the whole lamp's photons. */
  share: number;
}

/** The whole lit face along and across the lamp. */
export function reachOf(kind: LampKind): { along: Reach; across: Reach } {
  const { lengthMm, widthMm } = litSize(kind);
  return { along: [-lengthMm / 2, lengthMm / 2], across: [-widthMm / 2, widthMm / 2] };
}

/** The piece of a lamp within a reach; null where there is none. A side of no length is left so. */
export function partOf(lamp: Lamp, kind: LampKind, along: Reach, across: Reach): LampPart | null {
  const whole = reachOf(kind);
  const [lengthMm, lengthShare] = sideOf(whole.along, along);
  const [widthMm, widthShare] = sideOf(whole.across, across);
  const share = lengthShare * widthShare;
  if (!(share > 0)) return null;
  if (share === 1) return { lamp, kind, share };
  const { ux, uy, vx, vy, vz } = lampFrameOf(lamp);
  const s = (along[0] + along[1]) / 2;
  const w = (across[0] + across[1]) / 2;
  return {
    lamp: {
      ...lamp,
      xMm: lamp.xMm + s * ux + w * vx,
      yMm: lamp.yMm + s * uy + w * vy,
      zMm: lamp.zMm + w * vz,
      dimming: lamp.dimming * share,
    },
    // Of a strip its width does not count here, and it keeps it.
    kind: { ...kind, lengthMm, widthMm: whole.across[1] > 0 ? widthMm : kind.widthMm },
    share,
  };
}

function sideOf(whole: Reach, part: Reach): [mm: number, share: number] {
  const full = whole[1] - whole[0];
  if (full === 0) return [0, part[1] >= part[0] ? 1 : 0];
  const mm = Math.max(0, Math.min(whole[1], part[1]) - Math.max(whole[0], part[0]));
  return [mm, mm / full];
}

/** Narrows a reach to where `start + slope · s` is at least `least`. */
export function atLeast(reach: Reach, start: number, slope: number, least: number): Reach {
  if (Math.abs(slope) < 1e-9) return start >= least ? reach : NOWHERE;
  const at = (least - start) / slope;
  return slope > 0 ? [Math.max(reach[0], at), reach[1]] : [reach[0], Math.min(reach[1], at)];
}

export const NOWHERE: Reach = [1, -1];
