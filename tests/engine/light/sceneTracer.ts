import seedrandom from 'seedrandom';

/**
 * Photons followed one by one among upright and level rectangles: nothing of the project's light
 * engine is in it. A rectangle reflects a share of the photons, of these a share as a mirror does.
 */
export interface Sheet {
  axis: 0 | 1 | 2;
  at: number;
  /** Along the two other axes, in their order. */
  low: readonly [number, number];
  high: readonly [number, number];
  reflectance: number;
  specular?: number;
  /** Number of the cells that count what lands on it from above. */
  counts?: { cells: readonly [number, number]; name: string };
}

/** A Lambertian strip that faces down; along x or y. */
export interface Strip {
  xMm: number;
  yMm: number;
  zMm: number;
  lengthMm: number;
  alongX: boolean;
}

type Vector = [number, number, number];
const OTHERS = [
  [1, 2],
  [0, 2],
  [0, 1],
] as const;

/** Photons that land in the cells of each counting sheet per photon sent, row by row. */
export function traceScene(
  sheets: readonly Sheet[],
  strips: readonly Strip[],
  photons: number,
  seed: string,
): Map<string, Float64Array> {
  const random = seedrandom(seed);
  const landed = new Map<string, Float64Array>();
  for (const { counts } of sheets) {
    if (counts) landed.set(counts.name, new Float64Array(counts.cells[0] * counts.cells[1]));
  }
  for (let n = 0; n < photons; n++) {
    const strip = strips[n % strips.length];
    if (!strip) throw new Error('a strip is expected');
    const s = (random() - 0.5) * strip.lengthMm;
    const at: Vector = strip.alongX
      ? [strip.xMm + s, strip.yMm, strip.zMm]
      : [strip.xMm, strip.yMm + s, strip.zMm];
    let way = scattered(2, -1, random);
    for (;;) {
      let best = Infinity;
      let hit: Sheet | null = null;
      for (const sheet of sheets) {
        const distance = (sheet.at - at[sheet.axis]) / way[sheet.axis];
        if (!(distance > 1e-7) || distance >= best) continue;
        const [p, q] = OTHERS[sheet.axis];
        const [a, b] = [at[p] + distance * way[p], at[q] + distance * way[q]];
        if (a < sheet.low[0] || a > sheet.high[0] || b < sheet.low[1] || b > sheet.high[1])
          continue;
        best = distance;
        hit = sheet;
      }
      if (!hit) break;
      for (const axis of [0, 1, 2] as const) at[axis] += best * way[axis];
      at[hit.axis] = hit.at;
      if (hit.counts && way[2] < 0) count(landed, hit, at);
      if (random() >= hit.reflectance) break;
      if (random() < (hit.specular ?? 0)) way[hit.axis] = -way[hit.axis];
      else way = scattered(hit.axis, way[hit.axis] > 0 ? -1 : 1, random);
    }
  }
  for (const cells of landed.values()) cells.forEach((value, i) => (cells[i] = value / photons));
  return landed;
}

function count(landed: Map<string, Float64Array>, sheet: Sheet, at: Vector): void {
  if (!sheet.counts) return;
  const { cells, name } = sheet.counts;
  const [p, q] = OTHERS[sheet.axis];
  const place = (value: number, k: 0 | 1) =>
    Math.min(
      cells[k] - 1,
      Math.floor((cells[k] * (value - sheet.low[k])) / (sheet.high[k] - sheet.low[k])),
    );
  const list = landed.get(name);
  const index = place(at[q], 1) * cells[0] + place(at[p], 0);
  if (list) list[index] = (list[index] ?? 0) + 1;
}

/** A direction after Lambert's cosine law about an axis. */
function scattered(axis: 0 | 1 | 2, sign: number, random: () => number): Vector {
  const sine = Math.sqrt(random());
  const turn = 2 * Math.PI * random();
  const way: Vector = [0, 0, 0];
  const [p, q] = OTHERS[axis];
  way[p] = sine * Math.cos(turn);
  way[q] = sine * Math.sin(turn);
  way[axis] = sign * Math.sqrt(1 - sine * sine);
  return way;
}
