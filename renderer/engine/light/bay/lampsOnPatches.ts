import type { ReadyLamp } from '../sources/direct';
import { gaussLegendreRule } from '../sources/quadrature';
import type { BayBox, FaceGrid } from './box';
import { add, real } from '../../entry';

const PAIR = gaussLegendreRule(2);
const TRIPLE = gaussLegendreRule(3);

// A rule is good enough where the next coarser one, whose error is far larger, comes this close: by
// its own value, or by the share of the lamp's light that a patch could miss. Some hundred patches
// then keep the photons of a bay within 0.1 %.
const CLOSE = 0.005;
const MISSED = 1e-5;
/** Of that, what one piece may miss however unlike its neighbours: the edge of a shadow. */
const SLIVER = 0.03;
/** A piece may be this many times as long as it lies from the lamp. */
const NEAR = 2.5;
/** The same where the lamp's horizon cuts it, so that no lit sliver falls between the nodes. */
const NEAR_HORIZON = 0.6;
/** No piece need be smaller for being near. */
const LEAST_MM = 1;
/** Halvings of a patch along either side: what is left of 100 mm is finer than any lamp is near. */
const MOST_HALVINGS = 18;

/**
 * Pieces that one patch, and all patches together, are cut into at most. Lamps as they are built need a
 * tenth of it; one that lies in a face with all its length, or a beam of next to no angle, never ends.
 */
const MOST_PIECES = 2_000;
const MOST_PIECES_OF_A_LAMP = 30_000;

/** A rectangle on a face, in patches from the face's corner. */
interface Piece {
  s: number;
  t: number;
  ds: number;
  dt: number;
}

/** A lamp as a face sees it, by places in patches from the face's corner. */
interface Seen {
  /** Its light, per µmol s⁻¹ of it. */
  at: (s: number, t: number) => number;
  awayMm: (s: number, t: number) => number;
  frontMm: (s: number, t: number) => number;
  patchMm: readonly [number, number];
}

function seenOn({ perFlux, awayMm, frontMm }: ReadyLamp, grid: FaceGrid): Seen {
  const [ox, oy, oz] = grid.origin;
  const [ix, iy] = grid.sideI;
  const [, jy, jz] = grid.sideJ;
  const [rx, ry, rz] = grid.normal;
  return {
    at: (s, t) => perFlux(ox + s * ix, oy + s * iy + t * jy, oz + t * jz, rx, ry, rz),
    awayMm: (s, t) => awayMm(ox + s * ix, oy + s * iy + t * jy, oz + t * jz),
    frontMm: (s, t) => frontMm(ox + s * ix, oy + s * iy + t * jy, oz + t * jz),
    patchMm: [ix + iy, jy + jz],
  };
}

/**
 * Mean over a piece, weighted by its share of the patch. A piece longer than a few distances to the
 * lamp could hide the peak beneath it from any rule: it is halved, and so is one where two rules
 * disagree, along the direction in which the light bends more.
 */
function meanOver(
  seen: Seen,
  piece: Piece,
  missed: number,
  halvings: number,
  room: { pieces: number },
): number {
  room.pieces--;
  const { s, t, ds, dt } = piece;
  const share = ds * dt;
  const [longS, longT] = [ds * seen.patchMm[0], dt * seen.patchMm[1]];
  const halves = (alongS: boolean) =>
    (alongS
      ? [
          { ...piece, ds: ds / 2 },
          { ...piece, s: s + ds / 2, ds: ds / 2 },
        ]
      : [
          { ...piece, dt: dt / 2 },
          { ...piece, t: t + dt / 2, dt: dt / 2 },
        ]
    ).reduce((sum, part) => sum + meanOver(seen, part, missed, halvings - 1, room), 0);
  const near =
    (crossesHorizon(seen, piece) ? NEAR_HORIZON : NEAR) * seen.awayMm(s + ds / 2, t + dt / 2);
  const long = Math.max(longS, longT);
  const mayHalve = halvings > 0 && room.pieces > 0;
  if (mayHalve && long > near && long > LEAST_MM) return halves(longS >= longT);
  let coarse = 0;
  for (let a = 0; a < 2; a++) {
    for (let b = 0; b < 2; b++) {
      coarse += seen.at(
        s + (ds * (1 + real(PAIR.nodes, a))) / 2,
        t + (dt * (1 + real(PAIR.nodes, b))) / 2,
      );
    }
  }
  coarse /= 4;
  const alongS = [0, 0, 0];
  const alongT = [0, 0, 0];
  let fine = 0;
  for (let a = 0; a < 3; a++) {
    for (let b = 0; b < 3; b++) {
      const value = seen.at(
        s + (ds * (1 + real(TRIPLE.nodes, a))) / 2,
        t + (dt * (1 + real(TRIPLE.nodes, b))) / 2,
      );
      alongS[a] = (alongS[a] ?? 0) + value;
      alongT[b] = (alongT[b] ?? 0) + value;
      fine += (real(TRIPLE.weights, a) * real(TRIPLE.weights, b) * value) / 4;
    }
  }
  const apart = Math.abs(fine - coarse);
  const settled = apart <= CLOSE * fine || apart <= missed || apart * share <= SLIVER * missed;
  if (!mayHalve || settled) return fine * share;
  return halves(bend(alongS) >= bend(alongT));
}

/** Whether the plane of the lit face, behind which it is dark, cuts a piece. */
function crossesHorizon({ frontMm }: Seen, { s, t, ds, dt }: Piece): boolean {
  const [a, b, c] = [frontMm(s, t), frontMm(s + ds, t), frontMm(s, t + dt)];
  const d = b + c - a;
  return Math.min(a, b, c, d) < 0 && Math.max(a, b, c, d) > 0;
}

const bend = ([a = 0, b = 0, c = 0]: readonly number[]): number => Math.abs(a - 2 * b + c);

/**
 * Direct light of one lamp on every patch of the given faces (µmol m⁻² s⁻¹, mean over the patch),
 * added to `sum`. Patches close to the lamp are cut until the rules agree, so that a bay receives the
 * photons that a lamp gives. Lamps are not in each other's way.
 */
export function addLampOnPatches(
  box: BayBox,
  lamp: ReadyLamp,
  faces: readonly FaceGrid[],
  sum: Float64Array = new Float64Array(box.count),
): Float64Array {
  let left = MOST_PIECES_OF_A_LAMP;
  for (const grid of faces) {
    const seen = seenOn(lamp, grid);
    const missed = (lamp.mayMiss ?? MISSED) / grid.patchAreaM2;
    for (let j = 0; j < grid.up; j++) {
      for (let i = 0; i < grid.across; i++) {
        const at = grid.first + j * grid.across + i;
        const given = Math.max(0, Math.min(MOST_PIECES, left));
        const room = { pieces: given };
        const mean = meanOver(seen, { s: i, t: j, ds: 1, dt: 1 }, missed, MOST_HALVINGS, room);
        left -= given - room.pieces;
        add(sum, at, lamp.fluxUmolS * mean);
      }
    }
  }
  return sum;
}
