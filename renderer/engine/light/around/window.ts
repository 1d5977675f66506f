import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { lampInSlices } from '../parted/inSlices';
import { atLeast } from '../parted/lampPart';
import type { ReadyLamp } from '../sources/direct';
import { lampFrameOf } from '../sources/frame';

/** An upright opening across x or y, in the axes of the bay that looks through it, mm. */
export interface SideOpening {
  axis: 'x' | 'y';
  atMm: number;
  /** Along the other level axis, and upwards. */
  fromMm: number;
  toMm: number;
  bottomMm: number;
  topMm: number;
}

/** Little comes through, and of that only what is reflected rests on patches. */
const MAY_MISS = 2e-4;

/**
 * A lamp as it is seen through openings, one behind the other. The line from a point to a place on
 * the lamp meets an opening's plane within its four edges, which bounds the lamp along its length.
 */
export function seenThrough(
  lamp: Lamp,
  kind: LampKind,
  openings: readonly SideOpening[],
): ReadyLamp {
  const { ux, uy } = lampFrameOf(lamp);
  const seen = lampInSlices(lamp, kind, (whole, x, y, z, cx, cy, cz) => {
    let reach = whole;
    for (const { axis, atMm, fromMm, toMm, bottomMm, topMm } of openings) {
      const level = axis === 'x';
      const [pa, ca, ua] = level ? [x, cx, ux] : [y, cy, uy];
      const [pb, cb, ub] = level ? [y, cy, uy] : [x, cx, ux];
      const side = atMm >= pa ? 1 : -1;
      reach = atLeast(reach, side * (ca - atMm), side * ua, 0);
      const toPlane = Math.abs(atMm - pa);
      // side · [(q − p) · toPlane − (edge − p) · way] is linear along the lamp.
      const within = (start: number, slope: number, p: number, edge: number, sign: 1 | -1) => {
        const from = sign * ((start - p) * toPlane - (edge - p) * side * (ca - pa));
        const rise = sign * (slope * toPlane - (edge - p) * side * ua);
        reach = atLeast(reach, from, rise, 0);
      };
      within(cb, ub, pb, fromMm, 1);
      within(cb, ub, pb, toMm, -1);
      within(cz, 0, z, bottomMm, 1);
      within(cz, 0, z, topMm, -1);
    }
    return reach;
  });
  return { ...seen, mayMiss: MAY_MISS };
}
