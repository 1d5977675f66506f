import { peakPerFlux } from './beam';
import type { LampFrame } from './frame';
import { PER_MM2_TO_PER_M2, type Source } from './source';

/** A point that emits cosᵐ about the way it faces: I₀ cosᵐθ cos i / r². m = 1 is Lambertian. */
export function spotSource(frame: LampFrame, m: number): Source {
  const { cx, cy, cz, nx, ny, nz } = frame;
  const scale = peakPerFlux(m) * PER_MM2_TO_PER_M2;
  return (x, y, z, rx, ry, rz) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    const front = dx * nx + dy * ny + dz * nz;
    const facing = -(dx * rx + dy * ry + dz * rz);
    if (front <= 0 || facing <= 0) return 0;
    const square = dx * dx + dy * dy + dz * dz;
    const cosine = front / Math.sqrt(square);
    const beam = m === 1 ? cosine : Math.pow(cosine, m);
    return (scale * beam * facing) / (square * Math.sqrt(square));
  };
}
