import type { Room } from '../../../../shared-types/rack';
import { add, real } from '../../entry';
import { bayBox, FACES, type BayBox } from '../bay';
import {
  type RoomOpening,
  type Solid,
  PATCH_MM,
  MOST_CUTS,
  middlesOf,
  areaOf,
  viewOf,
  openingsAcross,
  sees,
} from './roomSight';

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
    const across = openingsAcross(k, openings, solids);
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
