import type { LampFrame } from './frame';
import type { Source } from './source';

// A line stands for a strip within 0.1 % from twelve widths on, and is 9 % off at one width.
const AS_LINE = 12;
const AS_WIDE = 8;

/** How far a strip of a width must be taken as wide at a distance from its middle: 0 to 1. */
export function asWide(widthMm: number, rhoMm: number): number {
  const t = (AS_LINE * widthMm - rhoMm) / ((AS_LINE - AS_WIDE) * widthMm);
  if (!(t > 0)) return 0;
  return t >= 1 ? 1 : t * t * (3 - 2 * t);
}

/** A strip as a line from afar and as the face that it is from near by, smoothly from one to the other. */
export function stripOfWidth(
  frame: LampFrame,
  widthMm: number,
  line: Source,
  face: Source,
): Source {
  if (!(widthMm > 0)) return line;
  const { cx, cy, cz, ux, uy } = frame;
  return (x, y, z, rx, ry, rz) => {
    const [dx, dy, dz] = [x - cx, y - cy, z - cz];
    const along = dx * ux + dy * uy;
    const wide = asWide(widthMm, Math.hypot(dx - along * ux, dy - along * uy, dz));
    if (wide === 0) return line(x, y, z, rx, ry, rz);
    const near = wide * face(x, y, z, rx, ry, rz);
    return wide === 1 ? near : near + (1 - wide) * line(x, y, z, rx, ry, rz);
  };
}
