import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { kindOfLamp, litSize } from '../../lamps';
import { lampFrameOf } from '../sources/frame';
import { readyLamp, type ReadyLamp } from '../sources/direct';
import { meets, tallerAround, type Stand } from './stands';

/** A piece of a lamp small enough to be seen whole or not at all. */
interface Piece {
  xMm: number;
  yMm: number;
  zMm: number;
  ready: ReadyLamp;
}

const PIECE_MM = 30;
const AZIMUTHS = 72;
// The middle of a top alone would see a lamp whole or not at all; leaves are not so small.
const TOP_MM = [
  [0, 0],
  [7, 7],
  [-7, 7],
  [7, -7],
  [-7, -7],
] as const;

const cuts = (mm: number) => Math.max(1, Math.min(60, Math.round(mm / PIECE_MM)));

/** The lamps cut into pieces, each a point that sends light as its lamp does. */
export function lampPieces(lamps: readonly Lamp[], lampKinds: readonly LampKind[]): Piece[] {
  return lamps.flatMap((lamp) => {
    const kind = kindOfLamp({ lampKinds }, lamp);
    const { lengthMm, widthMm } = litSize(kind);
    const point: LampKind = { ...kind, shape: 'spot' };
    const { ux, uy, vx, vy, vz } = lampFrameOf(lamp);
    const [n, m] = [cuts(lengthMm), cuts(widthMm)];
    return Array.from({ length: n * m }, (_, i) => {
      const s = lengthMm * (((i % n) + 0.5) / n - 0.5);
      const w = widthMm * ((Math.floor(i / n) + 0.5) / m - 0.5);
      const at = {
        xMm: lamp.xMm + s * ux + w * vx,
        yMm: lamp.yMm + s * uy + w * vy,
        zMm: lamp.zMm + w * vz,
      };
      const dimming = lamp.dimming / (n * m);
      return { ...at, ready: readyLamp({ ...lamp, ...at, dimming }, point) };
    });
  });
}

/**
 * Share of the direct light that taller neighbours take from the middle 20 mm of a plant's top: rays
 * to all pieces of the lamps, each stopped by any opaque cylinder in its way. This is the dense limit
 * of attenuation along the path through an array of plants (Norman & Welles 1983, Agronomy Journal
 * 75:481–488; Monsi & Saeki 1953 for the single layer). 0 where no lamp shines.
 */
export function directShade(own: Stand, all: readonly Stand[], pieces: readonly Piece[]): number {
  const taller = tallerAround(own, all);
  if (taller.length === 0) return 0;
  let whole = 0;
  let lost = 0;
  for (const { xMm, yMm, zMm, ready } of pieces) {
    const dz = zMm - own.topMm;
    if (dz <= 0) continue;
    const light = ready.fluxUmolS * ready.perFlux(own.xMm, own.yMm, own.topMm, 0, 0, 1);
    whole += light;
    const stopped = TOP_MM.filter(([x, y]) =>
      meets(own, taller, [x, y], [xMm - own.xMm - x, yMm - own.yMm - y, dz]),
    );
    lost += (light * stopped.length) / TOP_MM.length;
  }
  return whole > 0 ? lost / whole : 0;
}

/**
 * Share of light from all round that taller neighbours take, at the middle of a plant's top: mean
 * over the compass of sin² of the height angle up to which they fill the view. It is what a level,
 * cosine-corrected receiver loses under an even sky.
 */
export function skyShade(own: Stand, all: readonly Stand[]): number {
  const taller = tallerAround(own, all);
  let sum = 0;
  for (let i = 0; i < AZIMUTHS; i++) {
    const angle = (2 * Math.PI * (i + 0.5)) / AZIMUTHS;
    sum += horizon(own, taller, Math.cos(angle), Math.sin(angle));
  }
  return sum / AZIMUTHS;
}

/** sin² of the height angle to which the neighbours rise in one direction. */
function horizon(own: Stand, taller: ReturnType<typeof tallerAround>, ux: number, uy: number) {
  let highest = 0;
  for (const { other } of taller) {
    const x = other.xMm - own.xMm;
    const y = other.yMm - own.yMm;
    const along = x * ux + y * uy;
    const aside2 = x * x + y * y - along * along;
    const half2 = other.radiusMm * other.radiusMm - aside2;
    if (along <= 0 || half2 <= 0) continue;
    const near = Math.max(1e-6, along - Math.sqrt(half2));
    const rise = other.topMm - own.topMm;
    highest = Math.max(highest, (rise * rise) / (rise * rise + near * near));
  }
  return highest;
}
