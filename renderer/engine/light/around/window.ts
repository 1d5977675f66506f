import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { atLeast, partOf, reachOf } from '../parted/lampPart';
import { lampSource, readyLamp, type ReadyLamp } from '../sources/direct';
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
/** A panel is judged in so many strips across its width. */
const SLICES = 6;

/**
 * A lamp as it is seen through openings, one behind the other. The line from a point to a place on
 * the lamp meets an opening's plane within its four edges, which bounds the lamp along its length.
 */
export function seenThrough(
  lamp: Lamp,
  kind: LampKind,
  openings: readonly SideOpening[],
): ReadyLamp {
  const whole = readyLamp(lamp, kind);
  const { cx, cy, cz, ux, uy, vx, vy, vz } = lampFrameOf(lamp);
  const { along, across } = reachOf(kind);
  const width = across[1] - across[0];
  const slices = width > 0 ? SLICES : 1;
  const perFlux: ReadyLamp['perFlux'] = (x, y, z, nx, ny, nz) => {
    let sum = 0;
    for (let slice = 0; slice < slices; slice++) {
      const low = across[0] + (slice * width) / slices;
      const high = low + width / slices;
      const w = (low + high) / 2;
      let reach = along;
      for (const { axis, atMm, fromMm, toMm, bottomMm, topMm } of openings) {
        const level = axis === 'x';
        const [pa, ca, ua] = level ? [x, cx + w * vx, ux] : [y, cy + w * vy, uy];
        const [pb, cb, ub] = level ? [y, cy + w * vy, uy] : [x, cx + w * vx, ux];
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
        within(cz + w * vz, 0, z, bottomMm, 1);
        within(cz + w * vz, 0, z, topMm, -1);
      }
      const part = partOf(lamp, kind, reach, [low, high]);
      if (!part) continue;
      const from = part.lamp === lamp ? whole.perFlux : lampSource(part.lamp, part.kind);
      sum += part.share * from(x, y, z, nx, ny, nz);
    }
    return sum;
  };
  return { ...whole, perFlux, level: null, mayMiss: MAY_MISS };
}
