import type { Room } from '../../../../shared-types/rack';
import { add, real } from '../../entry';
import {
  bayBox,
  elementToPatch,
  FACES,
  rectangleExchange,
  type BayBox,
  type FaceGrid,
} from '../bay';

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
const PATCH_MM = 700;
const MOST_CUTS = 6;
/** Points over each opening that stand for it. */
const POINTS = [
  [1 / 6, 1 / 4],
  [1 / 2, 1 / 4],
  [5 / 6, 1 / 4],
  [1 / 6, 3 / 4],
  [1 / 2, 3 / 4],
  [5 / 6, 3 / 4],
] as const;

/** What a room gives back through each opening, by what leaves all of them. */
export interface RoomBack {
  /** PPFD (µmol m⁻² s⁻¹) upon each opening, evenly, for photons (µmol s⁻¹) that leave each. */
  upon: (leaving: Float64Array) => Float64Array;
  /** Of what leaves an opening, the share that meets surfaces of the room. */
  seen: Float64Array;
}

/**
 * The room as a box of matt patches in which racks stand: radiosity of its surfaces with the openings of
 * all bays, B = ρ (F B + what the openings send), each opening sending what leaves its bay and what it
 * passes on of the room's light and of other openings'. Light that meets a rack outside its openings is lost. Visibility
 * is judged from middle to middle.
 */
export function roomBack(
  room: Room,
  reflectance: { walls: number; floor: number; ceiling: number },
  openings: readonly RoomOpening[],
  solids: readonly Solid[],
): RoomBack {
  const box = roomBox(room);
  const { count, areaM2 } = box;
  const middles = middlesOf(box);
  const views = openings.map((opening) => viewOf(opening, box, middles, solids));
  const areas = openings.map(({ low, high }) => areaOf(low, high));
  const n = count + openings.length;
  const rho = new Float64Array(count);
  for (const face of FACES) {
    const { first, across, up } = box.faces[face];
    const value =
      face === 'canopy'
        ? reflectance.floor
        : face === 'above'
          ? reflectance.ceiling
          : reflectance.walls;
    rho.fill(value, first, first + across * up);
  }
  const matrix = new Float64Array(n * n);
  for (let p = 0; p < n; p++) matrix[p * n + p] = 1;
  for (let p = 0; p < count; p++) {
    const given = real(rho, p) / real(areaM2, p);
    for (let q = p + 1; q < count; q++) {
      const exchange = real(box.exchange, p * count + q);
      if (exchange <= 0) continue;
      const open = sees(middles, p, q, solids) ? exchange : 0;
      matrix[p * n + q] = -given * open;
      matrix[q * n + p] = (-real(rho, q) / real(areaM2, q)) * open;
    }
    views.forEach((view, o) => {
      matrix[p * n + count + o] = -given * (areas[o] ?? 0) * real(view, p);
    });
  }
  openings.forEach(({ bayKey, passesTo }, k) => {
    const ofBay = openings.flatMap((one, o) => (one.bayKey === bayKey ? [o] : []));
    const across = acrossFrom(k, openings, solids);
    ofBay.forEach((o, nth) => {
      const row = (count + o) * n;
      const passed = passesTo[nth] ?? 0;
      views[k]?.forEach((share, p) => add(matrix, row + p, -passed * share));
      for (const { from, share } of across) add(matrix, row + count + from, -passed * share);
    });
  });
  const solve = eliminated(matrix, n);
  const answers = new Map<number, Float64Array>();
  /** Upon each opening for one µmol s⁻¹ that leaves one. */
  const answerTo = (o: number): Float64Array => {
    const before = answers.get(o);
    if (before) return before;
    const right = new Float64Array(n);
    right[count + o] = 1 / (areas[o] ?? 1);
    const bright = solve(right);
    const answer = Float64Array.from(views, (view) => {
      let sum = 0;
      for (let p = 0; p < count; p++) sum += real(view, p) * real(bright, p);
      return sum;
    });
    answers.set(o, answer);
    return answer;
  };
  return {
    upon: (leaving) => {
      const sum = new Float64Array(openings.length);
      leaving.forEach((flux, o) => {
        if (flux !== 0) answerTo(o).forEach((value, i) => add(sum, i, flux * value));
      });
      return sum;
    },
    seen: Float64Array.from(views, (view) => view.reduce((sum, share) => sum + share, 0)),
  };
}

function roomBox({ widthMm, depthMm, heightMm }: Room): BayBox {
  const cut = (mm: number) => Math.min(MOST_CUTS, Math.max(2, Math.round(mm / PATCH_MM)));
  const size = { widthMm, depthMm, bottomMm: 0, topMm: heightMm };
  return bayBox(size, { x: cut(widthMm), y: cut(depthMm), z: cut(heightMm) });
}

function cornerOf({ origin, sideI, sideJ }: FaceGrid, i: number, j: number): Vector {
  const [a, b, c] = [0, 1, 2].map(
    (k) => (origin[k] ?? 0) + i * (sideI[k] ?? 0) + j * (sideJ[k] ?? 0),
  );
  return [a ?? 0, b ?? 0, c ?? 0];
}

function middlesOf(box: BayBox): Vector[] {
  return FACES.flatMap((face) => {
    const grid = box.faces[face];
    return Array.from({ length: grid.across * grid.up }, (_, at) =>
      cornerOf(grid, (at % grid.across) + 0.5, Math.floor(at / grid.across) + 0.5),
    );
  });
}

function areaOf(low: Vector, high: Vector): number {
  const across = Math.max(high[0] - low[0], high[1] - low[1]);
  return (across * (high[2] - low[2])) / 1e6;
}

/** Of diffuse light that leaves an opening, what meets each patch of the room. */
function viewOf(
  opening: RoomOpening,
  box: BayBox,
  middles: readonly Vector[],
  solids: readonly Solid[],
): Float64Array {
  const { low, high, outwards, bayKey } = opening;
  const rack = solids.find(({ bayKeys }) => bayKeys.includes(bayKey))?.rackKey;
  const others = solids.filter(({ rackKey }) => rackKey !== rack);
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
        if (share <= 0 || !middle || isHidden(at, middle, others)) continue;
        view[p] = real(view, p) + share / POINTS.length;
      }
    }
  }
  return view;
}

/** The openings that an opening faces, with what of their even light falls on it. */
function acrossFrom(
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
    const others = solids.filter(({ rackKey }) => !racks.includes(rackKey));
    return isHidden(middleOf(own), middleOf(other), others) ? [] : [{ from, share }];
  });
}

/** Openings that send less than this to each other are left to the rest of the room. */
const LEAST_SHARE = 0.005;

const middleOf = ({ low, high }: RoomOpening): Vector => [
  (low[0] + high[0]) / 2,
  (low[1] + high[1]) / 2,
  (low[2] + high[2]) / 2,
];

const sees = (middles: readonly Vector[], p: number, q: number, solids: readonly Solid[]) => {
  const [a, b] = [middles[p], middles[q]];
  return a !== undefined && b !== undefined && !isHidden(a, b, solids);
};

/** Whether the line between two points meets a box (slabs; Kay & Kajiya 1986). */
function isHidden(from: Vector, to: Vector, solids: readonly Solid[]): boolean {
  return solids.some(({ low, high }) => {
    let [enter, leave] = [1e-6, 1 - 1e-6];
    for (const axis of [0, 1, 2] as const) {
      const way = to[axis] - from[axis];
      const [a, b] = [low[axis] - from[axis], high[axis] - from[axis]];
      if (Math.abs(way) < 1e-9) {
        if (a > 0 || b < 0) return false;
        continue;
      }
      enter = Math.max(enter, Math.min(a / way, b / way));
      leave = Math.min(leave, Math.max(a / way, b / way));
    }
    return enter < leave;
  });
}

/** Makes ready to solve M x = r by Gaussian elimination with rows exchanged (Golub & Van Loan, 3.4). */
function eliminated(matrix: Float64Array, n: number): (right: Float64Array) => Float64Array {
  const lu = Float64Array.from(matrix);
  const order = Array.from({ length: n }, (_, i) => i);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(real(lu, i * n + k)) > Math.abs(real(lu, best * n + k))) best = i;
    }
    if (best !== k) {
      for (let j = 0; j < n; j++) {
        const held = real(lu, k * n + j);
        lu[k * n + j] = real(lu, best * n + j);
        lu[best * n + j] = held;
      }
      const held = order[k] ?? k;
      order[k] = order[best] ?? best;
      order[best] = held;
    }
    const pivot = real(lu, k * n + k);
    for (let i = k + 1; i < n; i++) {
      const factor = real(lu, i * n + k) / pivot;
      if (factor === 0) continue;
      lu[i * n + k] = factor;
      for (let j = k + 1; j < n; j++) {
        lu[i * n + j] = real(lu, i * n + j) - factor * real(lu, k * n + j);
      }
    }
  }
  return (right) => {
    const x = Float64Array.from(order, (from) => real(right, from));
    for (let i = 0; i < n; i++) {
      let sum = real(x, i);
      for (let j = 0; j < i; j++) sum -= real(lu, i * n + j) * real(x, j);
      x[i] = sum;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = real(x, i);
      for (let j = i + 1; j < n; j++) sum -= real(lu, i * n + j) * real(x, j);
      x[i] = sum / real(lu, i * n + i);
    }
    return x;
  };
}
