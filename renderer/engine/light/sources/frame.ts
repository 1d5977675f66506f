import type { Lamp } from '../../../../shared-types/rack';

/**
 * Where a lamp's emitting face is and how it lies, in the shelf's axes (mm; unit vectors):
 * centre c, along its length u (always level), across v, and the way it faces n.
 */
export interface LampFrame {
  cx: number;
  cy: number;
  cz: number;
  ux: number;
  uy: number;
  vx: number;
  vy: number;
  vz: number;
  nx: number;
  ny: number;
  nz: number;
}

/** A positive tilt turns the face towards v: towards the back for a lamp that is not rotated. */
export function lampFrameOf(lamp: Lamp): LampFrame {
  const turn = (lamp.rotationDeg * Math.PI) / 180;
  const tilt = (lamp.tiltDeg * Math.PI) / 180;
  const ct = Math.cos(tilt);
  // A tilt of 180 or 360 degrees must lie exactly level.
  const st = lamp.tiltDeg % 180 === 0 ? 0 : Math.sin(tilt);
  const ux = Math.cos(turn);
  const uy = Math.sin(turn);
  return {
    cx: lamp.xMm,
    cy: lamp.yMm,
    cz: lamp.zMm,
    ux,
    uy,
    vx: -uy * ct,
    vy: ux * ct,
    vz: st,
    nx: -uy * st,
    ny: ux * st,
    nz: -ct,
  };
}

/** Distance from a point to a flat face of a length and a width, mm. */
export function distanceTo(
  { cx, cy, cz, ux, uy, vx, vy, vz, nx, ny, nz }: LampFrame,
  lengthMm: number,
  widthMm: number,
): (x: number, y: number, z: number) => number {
  return (x, y, z) => {
    const [dx, dy, dz] = [x - cx, y - cy, z - cz];
    const along = Math.max(0, Math.abs(dx * ux + dy * uy) - lengthMm / 2);
    const across = Math.max(0, Math.abs(dx * vx + dy * vy + dz * vz) - widthMm / 2);
    return Math.hypot(along, across, dx * nx + dy * ny + dz * nz);
  };
}
