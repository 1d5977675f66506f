import seedrandom from 'seedrandom';

/**
 * Photons followed one by one through a shelf with one board across: nothing of the project's light
 * engine is in it. Strips are Lambertian lines along x or y; all surfaces are matt.
 */
export interface TracedShelf {
  widthMm: number;
  depthMm: number;
  canopyMm: number;
  topMm: number;
  /** Of the underside above, the canopy, and the four sides alike. */
  above: number;
  canopy: number;
  sides: number;
  board: { atMm: number; thicknessMm: number; downToMm: number; reflectance: number };
  strips: { xMm: number; yMm: number; zMm: number; lengthMm: number; alongX: boolean }[];
}

/** Photons that land on the canopy left and right of the board per photon sent, with their errors. */
export interface Landed {
  left: number;
  right: number;
  leftError: number;
  rightError: number;
}

type Vector = [number, number, number];
interface Hit {
  distance: number;
  normal: Vector;
  reflectance: number;
  canopy: boolean;
}

export function traceShelf(shelf: TracedShelf, photons: number, seed: string): Landed {
  const random = seedrandom(seed);
  let [left, right, leftSquares, rightSquares] = [0, 0, 0, 0];
  for (let n = 0; n < photons; n++) {
    const strip = shelf.strips[n % shelf.strips.length];
    if (!strip) throw new Error('a strip is expected');
    const s = (random() - 0.5) * strip.lengthMm;
    let at: Vector = strip.alongX
      ? [strip.xMm + s, strip.yMm, strip.zMm]
      : [strip.xMm, strip.yMm + s, strip.zMm];
    let way = scattered([0, 0, -1], random);
    let [onLeft, onRight] = [0, 0];
    for (;;) {
      const hit = firstHit(shelf, at, way);
      at = [
        at[0] + hit.distance * way[0],
        at[1] + hit.distance * way[1],
        at[2] + hit.distance * way[2],
      ];
      if (hit.canopy) {
        if (at[0] < shelf.board.atMm - shelf.board.thicknessMm / 2) onLeft += 1;
        if (at[0] > shelf.board.atMm + shelf.board.thicknessMm / 2) onRight += 1;
      }
      if (random() >= hit.reflectance) break;
      way = scattered(hit.normal, random);
    }
    left += onLeft;
    right += onRight;
    leftSquares += onLeft ** 2;
    rightSquares += onRight ** 2;
  }
  const error = (sum: number, squares: number) =>
    Math.sqrt((squares / photons - (sum / photons) ** 2) / photons);
  return {
    left: left / photons,
    right: right / photons,
    leftError: error(left, leftSquares),
    rightError: error(right, rightSquares),
  };
}

/** A direction after Lambert's cosine law about a normal that lies along an axis. */
function scattered(normal: Vector, random: () => number): Vector {
  const sine = Math.sqrt(random());
  const turn = 2 * Math.PI * random();
  const [a, b, c] = [sine * Math.cos(turn), sine * Math.sin(turn), Math.sqrt(1 - sine * sine)];
  const [nx, ny, nz] = normal;
  if (nx !== 0) return [nx * c, a, b];
  if (ny !== 0) return [a, ny * c, b];
  return [a, b, nz * c];
}

function firstHit(shelf: TracedShelf, at: Vector, way: Vector): Hit {
  const { widthMm, depthMm, canopyMm, topMm, sides, above, canopy, board } = shelf;
  const low: Vector = [0, 0, canopyMm];
  const high: Vector = [widthMm, depthMm, topMm];
  let best: Hit = { distance: Infinity, normal: [0, 0, 1], reflectance: 0, canopy: false };
  const offer = (hit: Hit) => {
    if (hit.distance > 1e-6 && hit.distance < best.distance) best = hit;
  };
  for (const axis of [0, 1, 2] as const) {
    if (way[axis] === 0) continue;
    const up = way[axis] > 0;
    const normal: Vector = [0, 0, 0];
    normal[axis] = up ? -1 : 1;
    const distance = ((up ? high[axis] : low[axis]) - at[axis]) / way[axis];
    const isCanopy = axis === 2 && !up;
    const reflectance = axis === 2 ? (up ? above : canopy) : sides;
    offer({ distance: Math.max(distance, 2e-6), normal, reflectance, canopy: isCanopy });
  }
  // The board: two faces and its lower edge.
  const from = board.atMm - board.thicknessMm / 2;
  const to = board.atMm + board.thicknessMm / 2;
  for (const [face, out] of [
    [from, -1],
    [to, 1],
  ] as const) {
    if (way[0] * out >= 0) continue;
    const distance = (face - at[0]) / way[0];
    if (at[2] + distance * way[2] < board.downToMm) continue;
    offer({ distance, normal: [out, 0, 0], reflectance: board.reflectance, canopy: false });
  }
  if (way[2] > 0) {
    const distance = (board.downToMm - at[2]) / way[2];
    const x = at[0] + distance * way[0];
    if (x > from && x < to) {
      offer({ distance, normal: [0, 0, -1], reflectance: board.reflectance, canopy: false });
    }
  }
  return best;
}
