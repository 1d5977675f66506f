import { real } from '../../entry';
import { elementToPatch, FACES, rectangleExchange, type BayBox, type FaceGrid } from '../bay';

/** A place or a way in the room's axes, mm. */
export type Vector = readonly [number, number, number];

/** An upright open side of a bay in the room's axes. */
export interface RoomOpening {
  /** Which bay it belongs to: sides of one bay pass light on to each other. */
  bayKey: string;
  /** Two corners, and the way out of the bay. */
  low: Vector;
  high: Vector;
  outwards: Vector;
  /** Of even light that enters its bay there, what arrives at each opening of the bay, in their order. */
  passesTo: readonly number[];
}

/** Space that a shelf takes of the room; light that meets it goes no further in the room. */
export interface Solid {
  bayKeys: readonly string[];
  rackKey: string;
  low: Vector;
  high: Vector;
}

/** Walls as bright as they are over some half metre; a room is never cut finer than this. */
export const PATCH_MM = 700;

export const MOST_CUTS = 6;

/** Points over each opening that stand for it. */
const POINTS = [
  [1 / 6, 1 / 4],
  [1 / 2, 1 / 4],
  [5 / 6, 1 / 4],
  [1 / 6, 3 / 4],
  [1 / 2, 3 / 4],
  [5 / 6, 3 / 4],
] as const;

function cornerOf({ origin, sideI, sideJ }: FaceGrid, i: number, j: number): Vector {
  const [a, b, c] = [0, 1, 2].map(
    (k) => (origin[k] ?? 0) + i * (sideI[k] ?? 0) + j * (sideJ[k] ?? 0),
  );
  return [a ?? 0, b ?? 0, c ?? 0];
}

export function middlesOf(box: BayBox): Vector[] {
  return FACES.flatMap((face) => {
    const grid = box.faces[face];
    return Array.from({ length: grid.across * grid.up }, (_, at) =>
      cornerOf(grid, (at % grid.across) + 0.5, Math.floor(at / grid.across) + 0.5),
    );
  });
}

export function areaOf(low: Vector, high: Vector): number {
  const across = Math.max(high[0] - low[0], high[1] - low[1]);
  return (across * (high[2] - low[2])) / 1e6;
}

/** Of diffuse light that leaves an opening, what meets each patch of the room. */
export function viewOf(
  opening: RoomOpening,
  box: BayBox,
  middles: readonly Vector[],
  solids: readonly Solid[],
): Float64Array {
  const { low, high, outwards, bayKey } = opening;
  const rack = solids.find(({ bayKeys }) => bayKeys.includes(bayKey))?.rackKey;
  const view = new Float64Array(box.count);
  for (const [s, t] of POINTS) {
    const at: Vector = [
      low[0] + s * (high[0] - low[0]),
      low[1] + s * (high[1] - low[1]),
      low[2] + t * (high[2] - low[2]),
    ];
    for (const face of FACES) {
      const grid = box.faces[face];
      for (let k = 0; k < grid.across * grid.up; k++) {
        const [i, j] = [k % grid.across, Math.floor(k / grid.across)];
        const share = elementToPatch(
          at,
          outwards,
          cornerOf(grid, i, j),
          cornerOf(grid, i + 1, j + 1),
        );
        const p = grid.first + k;
        const middle = middles[p];
        if (share <= 0 || !middle || isHidden(at, middle, solids, [rack])) continue;
        view[p] = real(view, p) + share / POINTS.length;
      }
    }
  }
  return view;
}

/** The openings that an opening faces, with what of their even light falls on it. */
export function openingsAcross(
  k: number,
  openings: readonly RoomOpening[],
  solids: readonly Solid[],
): { from: number; share: number }[] {
  const own = openings[k];
  if (!own) return [];
  const axis = own.outwards[0] === 0 ? 1 : 0;
  const along = axis === 0 ? 1 : 0;
  const plate = ({ low, high }: RoomOpening) => ({
    fromMm: low[along],
    toMm: high[along],
    bottomMm: low[2],
    topMm: high[2],
  });
  const rackOf = ({ bayKey }: RoomOpening) =>
    solids.find(({ bayKeys }) => bayKeys.includes(bayKey))?.rackKey;
  return openings.flatMap((other, from) => {
    if (other.outwards[axis] !== -own.outwards[axis] || other.outwards[axis] === 0) return [];
    const apart = own.outwards[axis] * (other.low[axis] - own.low[axis]);
    if (apart <= 0) return [];
    const share =
      rectangleExchange(plate(own), plate(other), apart) / 1e6 / areaOf(own.low, own.high);
    if (share < LEAST_SHARE) return [];
    const racks = [rackOf(own), rackOf(other)];
    return isHidden(middleOf(own), middleOf(other), solids, racks) ? [] : [{ from, share }];
  });
}

/** Openings that send less than this to each other are left to the rest of the room. */
const LEAST_SHARE = 0.005;

const middleOf = ({ low, high }: RoomOpening): Vector => [
  (low[0] + high[0]) / 2,
  (low[1] + high[1]) / 2,
  (low[2] + high[2]) / 2,
];

export const sees = (
  middles: readonly Vector[],
  p: number,
  q: number,
  solids: readonly Solid[],
) => {
  const [a, b] = [middles[p], middles[q]];
  return a !== undefined && b !== undefined && !isHidden(a, b, solids);
};

type Box = Pick<Solid, 'low' | 'high'>;

/** A rack's solids, and the box around them: a line that misses the box misses them all. */
interface SolidRack extends Box {
  key: string;
  solids: Solid[];
}

const racksOf = new WeakMap<readonly Solid[], readonly SolidRack[]>();

function racksAmong(solids: readonly Solid[]): readonly SolidRack[] {
  const before = racksOf.get(solids);
  if (before) return before;
  const byKey = new Map<string, Solid[]>();
  for (const solid of solids) {
    byKey.set(solid.rackKey, [...(byKey.get(solid.rackKey) ?? []), solid]);
  }
  const found = [...byKey].map(([key, own]): SolidRack => {
    const edge = (of: 'low' | 'high', pick: (...values: number[]) => number): Vector => [
      pick(...own.map((one) => one[of][0])),
      pick(...own.map((one) => one[of][1])),
      pick(...own.map((one) => one[of][2])),
    ];
    return { key, low: edge('low', Math.min), high: edge('high', Math.max), solids: own };
  });
  racksOf.set(solids, found);
  return found;
}

/** Whether a solid stands between two points; racks that are named are looked through. */
function isHidden(
  from: Vector,
  to: Vector,
  solids: readonly Solid[],
  except: readonly (string | undefined)[] = [],
): boolean {
  for (const rack of racksAmong(solids)) {
    if (except.includes(rack.key) || !meets(from, to, rack)) continue;
    for (const solid of rack.solids) if (meets(from, to, solid)) return true;
  }
  return false;
}

/** Whether the line between two points meets a box (slabs; Kay & Kajiya 1986). */
function meets(from: Vector, to: Vector, { low, high }: Box): boolean {
  let enter = 1e-6;
  let leave = 1 - 1e-6;
  for (let axis = 0; axis < 3; axis++) {
    const start = from[axis] ?? 0;
    const way = (to[axis] ?? 0) - start;
    const a = (low[axis] ?? 0) - start;
    const b = (high[axis] ?? 0) - start;
    if (Math.abs(way) < 1e-9) {
      if (a > 0 || b < 0) return false;
      continue;
    }
    enter = Math.max(enter, Math.min(a / way, b / way));
    leave = Math.min(leave, Math.max(a / way, b / way));
  }
  return enter < leave;
}
