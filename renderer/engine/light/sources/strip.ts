import { beamLine, litPart, peakPerFlux } from './beam';
import type { LampFrame } from './frame';
import { upperAngle } from '../angle';
import { lambertianPanel } from './panel';
import { asWide } from './width';
import { PER_MM2_TO_PER_M2, type LevelSource, type Source } from './source';
import { add, real } from '../../entry';

/**
 * A Lambertian line of flat faces. With x along the strip from the foot of the receiver, ρ the
 * receiver's distance from the strip's axis and b its distance in front of the face,
 * E = (Φ′/π) b ∫ (c0 + c1 x) / (ρ² + x²)² dx, which has a closed form for any receiver and tilt;
 * for a level strip over a level plane it is the textbook's h²[x/(2ρ²(ρ²+x²)) + atan(x/ρ)/(2ρ³)].
 */
export function lambertianStrip(frame: LampFrame, lengthMm: number): Source {
  const half = lengthMm / 2;
  const within = lambertianStripWithin(frame, lengthMm);
  return (x, y, z, rx, ry, rz) => within(x, y, z, rx, ry, rz, -half, half);
}

/** What reaches a receiver of a lamp's light from a piece of its length, mm from its middle. */
export type SourceWithin = (...at: [...Parameters<Source>, fromMm: number, toMm: number]) => number;

/** The same of a piece of the strip, per µmol s⁻¹ of the whole. */
export function lambertianStripWithin(frame: LampFrame, lengthMm: number): SourceWithin {
  const { cx, cy, cz, ux, uy, nx, ny, nz } = frame;
  const scale = PER_MM2_TO_PER_M2 / (Math.PI * lengthMm);
  return (x, y, z, rx, ry, rz, fromMm, toMm) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    if (front <= 0) return 0;
    const along = dx * ux + dy * uy;
    const c1 = ux * rx + uy * ry;
    const c0 = along * c1 - (dx * rx + dy * ry + dz * rz);
    let x1 = fromMm - along;
    let x2 = toMm - along;
    if (c1 !== 0) {
      const lit = litPart(c0, c1, x1, x2);
      if (lit === null) return 0;
      x1 = lit.from;
      x2 = lit.to;
    } else if (c0 <= 0) return 0;
    // Distance from the axis by its two components: subtracting squares would lose digits.
    const sideX = dx - along * ux;
    const sideY = dy - along * uy;
    const rho2 = sideX * sideX + sideY * sideY + dz * dz;
    const rho = Math.sqrt(rho2);
    // The angle that the strip fills, seen from the receiver: one call in place of two arctangents,
    // and no digits lost where it is small.
    const angle = Math.atan2(rho * (x2 - x1), rho2 + x1 * x2);
    const r1 = rho2 + x1 * x1;
    const r2 = rho2 + x2 * x2;
    let sum = (c0 * (x2 / r2 - x1 / r1 + angle / rho)) / (2 * rho2);
    if (c1 !== 0) sum += (c1 * (1 / r1 - 1 / r2)) / 2;
    return scale * front * sum;
  };
}

/**
 * The same for level receivers in one loop: c1 = 0 and c0 is the height below the strip. Both terms
 * are taken over their common divisors, (x2 − x1)(ρ² − x1 x2) / (r1 r2) for x2/r2 − x1/r1.
 */
export function lambertianStripLevel(frame: LampFrame, lengthMm: number, widthMm = 0): LevelSource {
  const { cx, cy, cz, ux, uy, nx, ny, nz } = frame;
  const half = lengthMm / 2;
  const scale = PER_MM2_TO_PER_M2 / (2 * Math.PI * lengthMm);
  const face = lambertianPanel(frame, lengthMm, widthMm);
  return (xs, ys, zs, fluxUmolS, sum) => {
    const scaled = scale * fluxUmolS;
    // Points mostly come row by row, and a row beside a level strip lies at one distance from it.
    let [lastX, lastY, lastZ] = [NaN, NaN, NaN];
    let [rho, rho2, perRho, below, wide] = [0, 0, 0, 0, 0];
    for (let i = 0; i < sum.length; i++) {
      const dx = real(xs, i) - cx;
      const dy = real(ys, i) - cy;
      const dz = real(zs, i) - cz;
      const along = dx * ux + dy * uy;
      const sideX = dx - along * ux;
      const sideY = dy - along * uy;
      if (sideX !== lastX || sideY !== lastY || dz !== lastZ) {
        [lastX, lastY, lastZ] = [sideX, sideY, dz];
        // The lamp's length is level, so that only the side counts for how far the face sees it.
        const front = sideX * nx + sideY * ny + dz * nz;
        rho2 = sideX * sideX + sideY * sideY + dz * dz;
        rho = Math.sqrt(rho2);
        perRho = 1 / rho;
        below = front > 0 && dz < 0 ? (-scaled * front * dz) / rho2 : 0;
        wide = widthMm > 0 ? asWide(widthMm, rho) : 0;
      }
      if (wide > 0) {
        add(sum, i, wide * fluxUmolS * face(real(xs, i), real(ys, i), real(zs, i), 0, 0, 1));
        if (wide === 1) continue;
      }
      if (below === 0) continue;
      const x1 = -half - along;
      const x2 = half - along;
      const product = x1 * x2;
      const term = (lengthMm * (rho2 - product)) / ((rho2 + x1 * x1) * (rho2 + x2 * x2));
      const angle = upperAngle(rho * lengthMm, rho2 + product);
      add(sum, i, (1 - wide) * below * (term + angle * perRho));
    }
  };
}

/** The same with cosᵐ elements: E = Φ′ (m+1)/2π · bᵐ ∫ (c0 + c1 x) / (ρ² + x²)^((m+3)/2) dx. */
export function beamStrip(frame: LampFrame, lengthMm: number, m: number): Source {
  const { cx, cy, cz, ux, uy, nx, ny, nz } = frame;
  const half = lengthMm / 2;
  const line = beamLine(m);
  const scale = (peakPerFlux(m) * PER_MM2_TO_PER_M2) / lengthMm;
  return (x, y, z, rx, ry, rz) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    if (front <= 0) return 0;
    const along = dx * ux + dy * uy;
    const c1 = ux * rx + uy * ry;
    const c0 = along * c1 - (dx * rx + dy * ry + dz * rz);
    const lit = litPart(c0, c1, -half - along, half - along);
    if (lit === null) return 0;
    const sideX = dx - along * ux;
    const sideY = dy - along * uy;
    const rho = Math.sqrt(sideX * sideX + sideY * sideY + dz * dz);
    return scale * Math.pow(front / rho, m) * line(rho, c0, c1, lit.from, lit.to);
  };
}
