import type { LampKind, Shelf } from '../../../shared-types/rack';
import {
  addLampOnPatches,
  bayBox,
  FACES,
  gather,
  reflectanceOfPatches,
  refuseLossless,
  solveRadiosity,
  type BayBox,
  type BaySize,
  type Cuts,
} from './bay';
import { figure, say } from '../../words';
import { placeInWords } from './figures';
import { LightProblem } from './problem';
import { directAtPoints, readyLamps, type PointMm, type ReadyLamp } from './direct';
import { add, real } from '../entry';

/** How a shelf's light is computed. */
export interface ModelRequest {
  /** Canopy height above the shelf's surface: the floor of the bay. */
  heightMm: number;
  /** Whether light reflected by the canopy, the sides and the underside above is added. */
  reflected: boolean;
}

/** A shelf's light as its lamps' figures and its reflectances give it. */
export interface ShelfModel {
  /** Lamp groups in the order of their first lamp. */
  groups: readonly string[];
  /** PPFD (µmol m⁻² s⁻¹) at each point, every group multiplied by its scale (1 if not given). */
  at: (points: readonly PointMm[], scaleOf?: (group: string) => number) => Float64Array;
}

// Lamps run level, so that the brightness of a side changes fastest upwards. Halving these again
// changes the PPFD in a white bay with a lamp 42 mm from its back by less than 0.5 % at 50 mm from
// the sides and farther, where pots can stand; at 10 mm from a corner by 2 %.
const LEVEL_PATCH_MM = 100;
const UPRIGHT_PATCH_MM = 50;
const MOST_CUTS = 24;

function cutsOf(size: BaySize): Cuts {
  const cut = (spanMm: number, patchMm: number) =>
    Math.min(MOST_CUTS, Math.max(2, Math.round(spanMm / patchMm)));
  return {
    x: cut(size.widthMm, LEVEL_PATCH_MM),
    y: cut(size.depthMm, LEVEL_PATCH_MM),
    z: cut(size.topMm - size.bottomMm, UPRIGHT_PATCH_MM),
  };
}

/** The bay of a shelf above a canopy; null where the canopy has reached the underside above. */
export function bayOf(shelf: Shelf, heightMm: number): BayBox | null {
  if (heightMm >= shelf.clearanceMm) return null;
  const size = {
    widthMm: shelf.widthMm,
    depthMm: shelf.depthMm,
    bottomMm: heightMm,
    topMm: shelf.clearanceMm,
  };
  return bayBox(size, cutsOf(size));
}

/**
 * Makes ready the light of one shelf: direct light of all lamps and, where asked for, what its bay
 * reflects. Throws where a lamp makes no sense or a closed bay absorbs nothing.
 */
export function shelfModel(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  { heightMm, reflected }: ModelRequest,
): ShelfModel {
  const lamps = readyLamps(shelf, lampKinds);
  const groups = [...new Set(lamps.map((lamp) => lamp.group))];
  const { above, front, back, left, right } = shelf.reflectances;
  // A canopy reflects upwards: without a surface above or beside it nothing comes back.
  const returns = above > 0 || front > 0 || back > 0 || left > 0 || right > 0;
  const box = reflected && returns ? bayOf(shelf, heightMm) : null;
  const bay = box && reflectingBay(shelf, box, lamps);
  return {
    groups,
    at: (points, scaleOf = () => 1) => {
      const scaled = lamps
        .map((lamp) => ({ ...lamp, fluxUmolS: lamp.fluxUmolS * scaleOf(lamp.group) }))
        .filter((lamp) => lamp.fluxUmolS > 0);
      const sum = directAtPoints(scaled, points);
      if (!bay || scaled.length === 0) return finite(sum, points);
      const extra = bay(points, scaleOf);
      return finite(
        sum.map((direct, i) => direct + real(extra, i)),
        points,
      );
    },
  };
}

// Only a point that touches a lamp, or all but does, gets more; full sun gives some 2000.
const MOST_PPFD = 1e9;

/** Figures without end would go on into every mean and picture: they are told where they arise. */
function finite(ppfd: Float64Array, points: readonly PointMm[]): Float64Array {
  const at = ppfd.findIndex((value) => !(value <= MOST_PPFD));
  const point = points[at];
  if (!point) return ppfd;
  const words = (place: string) =>
    `${figure(ppfd[at] ?? NaN)} µmol m⁻² s⁻¹ ${place}where a lamp touches the canopy; ` +
    `at most ${MOST_PPFD} is expected`;
  throw new LightProblem(words(''), (lengths) => {
    const height = say('length', lengths, point.zMm);
    return words(`at ${placeInWords(point.xMm, point.yMm, lengths)}, ${height} high, `);
  });
}

type Reflected = (points: readonly PointMm[], scaleOf: (group: string) => number) => Float64Array;

function reflectingBay(shelf: Shelf, box: BayBox, lamps: readonly ReadyLamp[]): Reflected {
  const rho = reflectanceOfPatches(box, shelf.reflectances);
  refuseLossless(rho);
  const lit = FACES.filter((face) => shelf.reflectances[face] > 0).map((face) => box.faces[face]);
  const byGroup = new Map<string, Float64Array>();
  for (const lamp of lamps) {
    if (lamp.fluxUmolS === 0) continue;
    byGroup.set(lamp.group, addLampOnPatches(box, lamp, lit, byGroup.get(lamp.group)));
  }
  // The same lamps are asked about at many sets of points: the last solution is kept.
  let solved: { scales: string; leaving: Float64Array } | null = null;
  return (points, scaleOf) => {
    const scales = [...byGroup.keys()].map(scaleOf);
    const key = scales.join(' ');
    if (solved?.scales === key) return gather(box, solved.leaving, points);
    const emitted = new Float64Array(box.count);
    for (const [group, onPatches] of byGroup) {
      const scale = scaleOf(group);
      for (let i = 0; i < emitted.length; i++) {
        add(emitted, i, scale * real(rho, i) * real(onPatches, i));
      }
    }
    const { leaving } = solveRadiosity(box, rho, emitted);
    solved = { scales: key, leaving };
    return gather(box, leaving, points);
  };
}
