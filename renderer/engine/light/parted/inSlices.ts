import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { lampSource, lampSourceWithin, readyLamp, type ReadyLamp } from '../sources/direct';
import { lampFrameOf } from '../sources/frame';
import { partOf, reachOf, type Reach } from './lampPart';

/** A panel is judged in so many slices across its width. */
const SLICES = 6;

/**
 * What a receiver at (x, y, z) sees of a slice of a lamp whose middle is at (cx, cy, cz), along the
 * lamp; mm.
 */
export type SeenAlong = (
  whole: Reach,
  x: number,
  y: number,
  z: number,
  cx: number,
  cy: number,
  cz: number,
) => Reach;

/** A lamp of which a receiver sees only so much of each slice. */
export function lampInSlices(lamp: Lamp, kind: LampKind, seenAlong: SeenAlong): ReadyLamp {
  const whole = readyLamp(lamp, kind);
  const { cx, cy, cz, vx, vy, vz } = lampFrameOf(lamp);
  const { along, across } = reachOf(kind);
  const width = across[1] - across[0];
  const slices = width > 0 ? SLICES : 1;
  const within = lampSourceWithin(lamp, kind);
  if (within) {
    const piece: ReadyLamp['perFlux'] = (x, y, z, nx, ny, nz) => {
      const [from, to] = seenAlong(along, x, y, z, cx, cy, cz);
      const [least, most] = [Math.max(from, along[0]), Math.min(to, along[1])];
      return most > least ? within(x, y, z, nx, ny, nz, least, most) : 0;
    };
    return { ...whole, perFlux: piece, level: null, shadowed: true };
  }
  const perFlux: ReadyLamp['perFlux'] = (x, y, z, nx, ny, nz) => {
    let sum = 0;
    for (let slice = 0; slice < slices; slice++) {
      const low = across[0] + (slice * width) / slices;
      const high = low + width / slices;
      const w = (low + high) / 2;
      const reach = seenAlong(along, x, y, z, cx + w * vx, cy + w * vy, cz + w * vz);
      const part = partOf(lamp, kind, reach, [low, high]);
      if (!part) continue;
      const from = part.lamp === lamp ? whole.perFlux : lampSource(part.lamp, part.kind);
      sum += part.share * from(x, y, z, nx, ny, nz);
    }
    return sum;
  };
  return { ...whole, perFlux, level: null, shadowed: true };
}
