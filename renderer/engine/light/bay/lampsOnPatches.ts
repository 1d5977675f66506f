import type { ReadyLamp } from '../sources/direct';
import { gaussLegendreRule } from '../sources/quadrature';
import type { BayBox, FaceGrid } from './box';
import { add, real } from '../../entry';

const PAIR = gaussLegendreRule(2);
const TRIPLE = gaussLegendreRule(3);

// A rule is good enough where the next coarser one, whose error is far larger, comes this close: by
// its own value, or by the share of the lamp's light that a patch could miss. Some hundred patches
// then keep the photons of a bay within 0.1 %.
const CLOSE = 0.001;
const MISSED = 1e-5;
/** Of that, what one piece may miss however unlike its neighbours: the edge of a shadow. */
const SLIVER = 0.03;
/** A piece may be this many times as long as its nearest place lies from the lamp. */
const NEAR = 2.5;
/** The same where the lamp's horizon cuts it, so that no lit sliver falls between the nodes. */
const NEAR_HORIZON = 0.6;
/** A distance that changes by no more than this share of itself is the same. */
const STEADY = 0.1;
/** A piece this much shorter than it lies from the lamp, and clear of its horizon, is told by one rule. */
const FAR = 0.3;
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
  /** No edge of a shadow falls on the face. */
  smooth: boolean;
}

function seenOn({ perFlux, awayMm, frontMm, shadowed }: ReadyLamp, grid: FaceGrid): Seen {
  const [ox, oy, oz] = grid.origin;
  const [ix, iy] = grid.sideI;
  const [, jy, jz] = grid.sideJ;
  const [rx, ry, rz] = grid.normal;
  return {
    at: (s, t) => perFlux(ox + s * ix, oy + s * iy + t * jy, oz + t * jz, rx, ry, rz),
    awayMm: (s, t) => awayMm(ox + s * ix, oy + s * iy + t * jy, oz + t * jz),
    frontMm: (s, t) => frontMm(ox + s * ix, oy + s * iy + t * jy, oz + t * jz),
    patchMm: [ix + iy, jy + jz],
    smooth: !shadowed,
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
  const mayHalve = halvings > 0 && room.pieces > 0;
  const mid = { s: s + ds / 2, t: t + dt / 2 };
  const away = seen.awayMm(mid.s, mid.t);
  if (mayHalve) {
    const cut = cutNearLamp(seen, piece, longS, longT, away);
    if (cut !== null) return halves(cut);
  }
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
  const long = Math.max(longS, longT);
  if (seen.smooth && long < FAR * away && long < Math.abs(seen.frontMm(mid.s, mid.t))) {
    return coarse * share;
  }
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

/**
 * Whether a piece is cut, for being long against its distance to the lamp, along s (true) or along t
 * (false); null: it is not. Beside a lamp that runs along, nothing hides in the length of a piece: it is
 * cut across alone. The distance is a convex function of place, so that where both ends are as far off
 * as the middle no place between them is nearer.
 */
function cutNearLamp(
  { awayMm, ...seen }: Seen,
  piece: Piece,
  longS: number,
  longT: number,
  away: number,
): boolean | null {
  const { s, t, ds, dt } = piece;
  const [midS, midT] = [s + ds / 2, t + dt / 2];
  const long = Math.max(longS, longT);
  // No place of the piece is nearer than its middle by more than half its diagonal.
  if (long <= LEAST_MM || long <= NEAR_HORIZON * (away - Math.hypot(longS, longT) / 2)) return null;
  const [s1, s2] = [awayMm(s, midT), awayMm(s + ds, midT)];
  const [t1, t2] = [awayMm(midS, t), awayMm(midS, t + dt)];
  const crossed = horizonAcross(seen.frontMm, piece);
  const nearest = Math.min(away, s1, s2, t1, t2);
  const near = (crossed.s || crossed.t ? NEAR_HORIZON : NEAR) * nearest;
  const differ = (one: number, other: number) =>
    Math.max(Math.abs(one - away), Math.abs(other - away)) > STEADY * Math.max(away, LEAST_MM);
  // A lamp that ends at an end of the piece is darker there already.
  const [endS, endT] = seen.patchMm.map((mm) => Math.max(nearest, LEAST_MM) / mm);
  const changes = (one: number, other: number, alongS: boolean) =>
    differ(one, other) ||
    (alongS
      ? differ(awayMm(s - (endS ?? 0), midT), awayMm(s + ds + (endS ?? 0), midT))
      : differ(awayMm(midS, t - (endT ?? 0)), awayMm(midS, t + dt + (endT ?? 0))));
  const cutS = longS > Math.max(near, LEAST_MM) && (crossed.s || changes(s1, s2, true));
  const cutT = longT > Math.max(near, LEAST_MM) && (crossed.t || changes(t1, t2, false));
  return cutS || cutT ? cutS && (!cutT || longS >= longT) : null;
}

/** Along which sides of a piece the plane of the lit face, behind which it is dark, cuts it. */
function horizonAcross(
  frontMm: Seen['frontMm'],
  { s, t, ds, dt }: Piece,
): { s: boolean; t: boolean } {
  const [a, b, c] = [frontMm(s, t), frontMm(s + ds, t), frontMm(s, t + dt)];
  const d = b + c - a;
  return { s: a * b < 0 || c * d < 0, t: a * c < 0 || b * d < 0 };
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
