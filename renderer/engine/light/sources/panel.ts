import { parallelCorner } from '../bay/viewFactors';
import { beamLine, beamPlate, peakPerFlux } from './beam';
import type { LampFrame } from './frame';
import { PER_MM2_TO_PER_M2, type Source } from './source';
import { num } from '../../entry';

/**
 * Lambert's contour formula: 1/2π Σ (angle that an edge fills) · (unit normal of the plane through
 * edge and receiver) · (receiver's normal), the polygon clipped at the receiver's horizon. Corners
 * as x, y, z triples relative to the receiver.
 */
function viewOfPolygon(corners: readonly number[], rx: number, ry: number, rz: number) {
  const lit = clipAtHorizon(corners, rx, ry, rz);
  let sum = 0;
  for (let i = 0; i < lit.length; i += 3) {
    const j = (i + 3) % lit.length;
    const ax = num(lit, i);
    const ay = num(lit, i + 1);
    const az = num(lit, i + 2);
    const bx = num(lit, j);
    const by = num(lit, j + 1);
    const bz = num(lit, j + 2);
    const px = ay * bz - az * by;
    const py = az * bx - ax * bz;
    const pz = ax * by - ay * bx;
    const size = Math.sqrt(px * px + py * py + pz * pz);
    if (size === 0) continue;
    const angle = Math.atan2(size, ax * bx + ay * by + az * bz);
    sum += (angle * (px * rx + py * ry + pz * rz)) / size;
  }
  return Math.abs(sum) / (2 * Math.PI);
}

function clipAtHorizon(corners: readonly number[], rx: number, ry: number, rz: number) {
  const lit: number[] = [];
  for (let i = 0; i < corners.length; i += 3) {
    const j = (i + 3) % corners.length;
    const ax = num(corners, i);
    const ay = num(corners, i + 1);
    const az = num(corners, i + 2);
    const bx = num(corners, j);
    const by = num(corners, j + 1);
    const bz = num(corners, j + 2);
    const a = ax * rx + ay * ry + az * rz;
    const b = bx * rx + by * ry + bz * rz;
    if (a >= 0) lit.push(ax, ay, az);
    if (a < 0 !== b < 0) {
      const t = a / (a - b);
      lit.push(ax + t * (bx - ax), ay + t * (by - ay), az + t * (bz - az));
    }
  }
  return lit;
}

/**
 * A Lambertian rectangle. Over a plane parallel to it: the sum of four corner terms; else Lambert's
 * contour formula, which is exact for every tilt and every receiver.
 */
export function lambertianPanel(frame: LampFrame, lengthMm: number, widthMm: number): Source {
  const { cx, cy, cz, ux, uy, vx, vy, vz, nx, ny, nz } = frame;
  const a = lengthMm / 2;
  const b = widthMm / 2;
  const scale = PER_MM2_TO_PER_M2 / (lengthMm * widthMm);
  return (x, y, z, rx, ry, rz) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    if (front <= 0) return 0;
    if (nx === -rx && ny === -ry && nz === -rz) {
      const along = dx * ux + dy * uy;
      const across = dx * vx + dy * vy + dz * vz;
      const c2 = front * front;
      return (
        scale *
        (parallelCorner(a - along, b - across, c2) -
          parallelCorner(-a - along, b - across, c2) -
          parallelCorner(a - along, -b - across, c2) +
          parallelCorner(-a - along, -b - across, c2))
      );
    }
    const corners: number[] = [];
    for (const [s, t] of CORNERS) {
      corners.push(s * a * ux + t * b * vx - dx, s * a * uy + t * b * vy - dy, t * b * vz - dz);
    }
    return scale * viewOfPolygon(corners, rx, ry, rz);
  };
}

const CORNERS = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** A rectangle of cosᵐ elements, by Gauss–Legendre along and across. */
export function beamPanel(frame: LampFrame, lengthMm: number, widthMm: number, m: number): Source {
  const { cx, cy, cz, ux, uy, vx, vy, vz, nx, ny, nz } = frame;
  const a = lengthMm / 2;
  const b = widthMm / 2;
  const line = beamLine(m);
  const scale = (peakPerFlux(m) * PER_MM2_TO_PER_M2) / (lengthMm * widthMm);
  return (x, y, z, rx, ry, rz) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    if (front <= 0) return 0;
    const along = dx * ux + dy * uy;
    const across = dx * vx + dy * vy + dz * vz;
    const c = {
      c0: -front * (nx * rx + ny * ry + nz * rz),
      c1: ux * rx + uy * ry,
      c2: vx * rx + vy * ry + vz * rz,
    };
    const spanX = { from: -a - along, to: a - along };
    const spanY = { from: -b - across, to: b - across };
    return scale * beamPlate(line, m, front, c, spanX, spanY);
  };
}
