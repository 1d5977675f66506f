import type { PatternName } from '../ui/colour/palette';
import { mm } from './text';

/**
 * A pattern inside a disc around the origin as a path, mm. Drawn line by line: tiled fills swell a
 * PDF to many megabytes.
 */
export function discPattern(pattern: PatternName, radius: number): { d: string; filled: boolean } {
  // Lines nearer than this run together where a rack is drawn small and copied in grey.
  const step = Math.min(2, Math.max(1.3, radius * 0.36));
  switch (pattern) {
    case 'plain':
      return { d: '', filled: false };
    case 'lines-right':
      return { d: chords(radius, step, 1, -1), filled: false };
    case 'lines-left':
      return { d: chords(radius, step, 1, 1), filled: false };
    case 'cross':
      return { d: chords(radius, step, 1, -1) + chords(radius, step, 1, 1), filled: false };
    case 'level':
      return { d: chords(radius, step, 1, 0), filled: false };
    case 'upright':
      return { d: chords(radius, step, 0, 1), filled: false };
    case 'dots':
      return { d: circles(radius, step, step * 0.22), filled: true };
    case 'rings':
      return { d: circles(radius, step * 1.3, step * 0.42), filled: false };
  }
}

/** Parallel chords of a disc along a direction. */
function chords(radius: number, step: number, alongX: number, alongY: number): string {
  const length = Math.hypot(alongX, alongY);
  const [ux, uy] = [alongX / length, alongY / length];
  let d = '';
  for (let at = -Math.floor(radius / step) * step; at < radius; at += step) {
    const half = Math.sqrt(Math.max(0, radius ** 2 - at ** 2));
    if (half < 0.1) continue;
    const [x, y] = [-uy * at - ux * half, ux * at - uy * half];
    d += `M${mm(x)},${mm(y)}l${mm(2 * half * ux)},${mm(2 * half * uy)}`;
  }
  return d;
}

/** In a disc below this the letter hides all of a grid but its rim. */
const SMALL_DISC_MM = 4;

/** Small circles on a square grid, or along the rim of a small disc, whole inside the disc. */
function circles(radius: number, step: number, small: number): string {
  if (radius < SMALL_DISC_MM) return around(radius, step, small);
  const count = Math.ceil(radius / step);
  let d = '';
  for (let i = -count; i <= count; i++) {
    for (let j = -count; j <= count; j++) {
      const [x, y] = [i * step, j * step];
      if (Math.hypot(x, y) + small > radius) continue;
      d += circle(x, y, small);
    }
  }
  return d;
}

function around(radius: number, step: number, small: number): string {
  const at = radius - small - 0.25;
  const count = Math.floor((2 * Math.PI * at) / step);
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return circle(at * Math.cos(angle), at * Math.sin(angle), small);
  }).join('');
}

function circle(x: number, y: number, small: number): string {
  const r = mm(small);
  return `M${mm(x - small)},${mm(y)}a${r},${r} 0 1 0 ${mm(2 * small)},0a${r},${r} 0 1 0 ${mm(-2 * small)},0`;
}
