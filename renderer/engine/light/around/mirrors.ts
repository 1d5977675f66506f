import type { Shelf, Side } from '../../../../shared-types/rack';
import type { ReadyLamp } from '../sources/direct';
import { specularOf } from './facing';

/** Reflections one after another that are followed as in mirrors; what is left then is matt. */
const MOST_REFLECTIONS = 3;
const LEAST_SHARE = 0.02;

/** What a bay sees of its lamps in its foils, m times across x and n times across y. */
export interface Image {
  m: number;
  n: number;
  /** Of the light of the lamp itself. */
  share: number;
}

/** Share of a side's light that goes on as from a mirror. */
export const mirrored = (shelf: Shelf, side: Side): number =>
  shelf.reflectances[side] * specularOf(shelf, side);

function alongOne(m: number, low: number, high: number): number {
  const [first, second] = m > 0 ? [high, low] : [low, high];
  const count = Math.abs(m);
  return first ** Math.ceil(count / 2) * second ** Math.floor(count / 2);
}

/** All images of a bay of foils, without the lamps themselves. [] where no side is a mirror. */
export function imagesOf(shelf: Shelf): Image[] {
  const [left, right] = [mirrored(shelf, 'left'), mirrored(shelf, 'right')];
  const [front, back] = [mirrored(shelf, 'front'), mirrored(shelf, 'back')];
  const images: Image[] = [];
  for (let m = -MOST_REFLECTIONS; m <= MOST_REFLECTIONS; m++) {
    const most = MOST_REFLECTIONS - Math.abs(m);
    for (let n = -most; n <= most; n++) {
      if (m === 0 && n === 0) continue;
      const share = alongOne(m, left, right) * alongOne(n, front, back);
      if (share >= LEAST_SHARE) images.push({ m, n, share });
    }
  }
  return images;
}

/** Whether light of an image that falls on a side is followed further as in a mirror. */
export function goesOn(
  { m, n }: Pick<Image, 'm' | 'n'>,
  side: Side,
  images: readonly Image[],
): boolean {
  const next: Record<Side, readonly [number, number]> = {
    left: [-1 - m, n],
    right: [1 - m, n],
    front: [m, -1 - n],
    back: [m, 1 - n],
  };
  const [toM, toN] = next[side];
  return images.some((image) => image.m === toM && image.n === toN);
}

/** A lamp as an image of it sends light: the lamp itself, seen from the mirrored place. */
export function imageOf(lamp: ReadyLamp, { m, n, share }: Image, shelf: Shelf): ReadyLamp {
  const { widthMm: w, depthMm: d } = shelf;
  const odd = (count: number) => count % 2 !== 0;
  const px = (x: number) => (odd(m) ? (m + 1) * w - x : x - m * w);
  const py = (y: number) => (odd(n) ? (n + 1) * d - y : y - n * d);
  const [sx, sy] = [odd(m) ? -1 : 1, odd(n) ? -1 : 1];
  const { level } = lamp;
  return {
    ...lamp,
    fluxUmolS: lamp.fluxUmolS * share,
    perFlux: (x, y, z, nx, ny, nz) => lamp.perFlux(px(x), py(y), z, sx * nx, sy * ny, nz),
    awayMm: (x, y, z) => lamp.awayMm(px(x), py(y), z),
    frontMm: (x, y, z) => lamp.frontMm(px(x), py(y), z),
    // A level receiver is level in a mirror.
    level: level && ((xs, ys, zs, flux, sum) => level(xs.map(px), ys.map(py), zs, flux, sum)),
  };
}
