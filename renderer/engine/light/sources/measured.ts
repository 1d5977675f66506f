import type { LampFrame } from './frame';
import type { Photometry } from '../../lamps';
import { ruleOfAtLeast, type Rule } from './quadrature';
import { PER_MM2_TO_PER_M2, type Source } from './source';
import { real } from '../../entry';

const DEGREES = 180 / Math.PI;
// A file's curve has corners at its angles, so that more nodes than these gain little.
const NODES_PER_RADIAN = 6;

/**
 * A face every element of which emits as the photometric file says (per µmol s⁻¹ of the lamp, its
 * curve divided by its integrated flux). Vertical angles count from the way the lamp faces,
 * horizontal ones from its length towards its width. Light that the file sends backwards is kept.
 */
export function measuredSource(
  frame: LampFrame,
  lengthMm: number,
  widthMm: number,
  photometry: Photometry,
): Source {
  const { cx, cy, cz, ux, uy, vx, vy, vz, nx, ny, nz } = frame;
  const scale = PER_MM2_TO_PER_M2 / photometry.integratedLumens;
  return (x, y, z, rx, ry, rz) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    const along = dx * ux + dy * uy;
    const across = dx * vx + dy * vy + dz * vz;
    const far = Math.max(Math.abs(front), 1e-3);
    const acrossSpan = tangentSpan(across, widthMm, far);
    const lines = ruleFor(acrossSpan);
    let sum = 0;
    for (let j = 0; j < lines.nodes.length; j++) {
      const w = placeOf(acrossSpan, real(lines.nodes, j));
      const alongSpan = tangentSpan(along, lengthMm, Math.hypot(far, w.at - across));
      const ends = ruleFor(alongSpan);
      const weight = real(lines.weights, j) * w.share;
      for (let i = 0; i < ends.nodes.length; i++) {
        const l = placeOf(alongSpan, real(ends.nodes, i));
        const ex = dx - l.at * ux - w.at * vx;
        const ey = dy - l.at * uy - w.at * vy;
        const ez = dz - w.at * vz;
        const facing = -(ex * rx + ey * ry + ez * rz);
        if (facing <= 0) continue;
        const square = ex * ex + ey * ey + ez * ez;
        const r = Math.sqrt(square);
        const vertical = Math.acos(Math.max(-1, Math.min(1, front / r))) * DEGREES;
        const horizontal = Math.atan2(across - w.at, along - l.at) * DEGREES;
        const seen = (photometry.intensity(vertical, horizontal) * facing) / (square * r);
        sum += weight * real(ends.weights, i) * l.share * seen;
      }
    }
    return scale * sum;
  };
}

const POINT: Rule = { nodes: Float64Array.of(0), weights: Float64Array.of(1) };

/** A side of the face seen under an angle from a receiver at `foot` along it and `far` away. */
interface TangentSpan {
  foot: number;
  size: number;
  far: number;
  middle: number;
  half: number;
}

function tangentSpan(foot: number, size: number, far: number): TangentSpan {
  const from = Math.atan((-size / 2 - foot) / far);
  const to = Math.atan((size / 2 - foot) / far);
  return { foot, size, far, middle: (from + to) / 2, half: (to - from) / 2 };
}

/** Nodes by the angle that the side fills: far from the lamp a few do. */
function ruleFor(span: TangentSpan): Rule {
  return span.size === 0 ? POINT : ruleOfAtLeast(3 + NODES_PER_RADIAN * 2 * span.half);
}

/**
 * A node on −1…1 carried to the side, dense near the receiver's foot: position = foot + far · tan φ.
 * `share` turns the node's weight into a share of the side.
 */
function placeOf(span: TangentSpan, node: number): { at: number; share: number } {
  if (span.size === 0) return { at: 0, share: 1 };
  const tangent = Math.tan(span.middle + span.half * node);
  return {
    at: span.foot + span.far * tangent,
    share: (span.half * span.far * (1 + tangent * tangent)) / span.size,
  };
}
