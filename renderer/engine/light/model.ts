import type { LampKind, Shelf } from '../../../shared-types/rack';
import { figure, say, unlessRefused } from '../../words';
import { bayAt, type Bay } from '../geometry';
import type { ShelfInRoom } from '../lamps';
import { entry, real } from '../entry';
import { bayOf } from './bay/bayOf';
import { directAtPoints, type PointMm } from './sources/direct';
import { placeInWords } from './figures';
import { asFaced, facesLight, litFromOutside } from './around/facing';
import { bayAlone } from './around/bayAlone';
import { BACK, backGroupOf, OUTSIDE, outsideOf } from './around/keys';
import { returnedTo, type Returned } from './around/returned';
import { surroundingsOf } from './around/surroundings';
import { bayParts, type BayPart } from './parted/bayParts';
import { reflectingBays, type Reflected } from './parted/reflected';
import type { ScaleOf } from './parted/together';
import { standInOf } from './around/sameLight';
import { everyLamp, lampsOfBay, type BayLamps } from './parted/underBoards';
import { LightProblem } from './problem';

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
  /** The bays of other shelves whose lamps are counted each by itself, by id. */
  beside: readonly string[];
  /** What the room gives back; null where none is said. */
  returned: Returned | null;
  /** PPFD (µmol m⁻² s⁻¹) at each point, every group multiplied by its scale (1 if not given). */
  at: (
    points: readonly PointMm[],
    scaleOf?: (group: string) => number,
    /** Of light from outside, by the bay of another shelf or the side that sends it; see `around/keys`. */
    from?: (outside: string) => number,
  ) => Float64Array;
}

/**
 * Makes ready the light of one shelf: direct light of all lamps and, where asked for, what its bays
 * reflect. Boards part it into bays that light each other only beneath the boards. Throws where a
 * lamp makes no sense or a closed bay absorbs nothing.
 */
export function shelfModel(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  request: ModelRequest,
): ShelfModel {
  // Direct light alone is quick.
  const standIn = request.reflected ? standInOf(shelf) : null;
  if (!standIn) return modelOf(shelf, lampKinds, request);
  // What is wrong with a shelf is said of the shelf itself.
  const own = () => modelOf(shelf, lampKinds, request);
  const model = unlessRefused(() =>
    standIn.key === null
      ? modelOf(standIn.shelf, lampKinds, request)
      : keptModel(standIn.key, standIn.shelf, lampKinds, request),
  );
  if (!model) return own();
  const bayOf = (name: string) => standIn.bayIds.get(name) ?? name;
  const groupOf = (name: string) => standIn.groups.get(name) ?? name;
  const found: ShelfModel['at'] = (points, scaleOf, from) =>
    model.at(
      points,
      scaleOf && ((group) => scaleOf(groupOf(group))),
      from && ((outside) => from(bayOf(outside))),
    );
  return {
    ...model,
    groups: model.groups.map(groupOf),
    beside: model.beside.map(bayOf),
    at: (...asked) => unlessRefused(() => found(...asked)) ?? own().at(...asked),
  };
}

// Shelves are mostly alike, and what a bay reflects takes longer than all else.
const models = new WeakMap<readonly LampKind[], Map<string, ShelfModel>>();
const MOST_MODELS = 60;

function keptModel(
  key: string,
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  request: ModelRequest,
): ShelfModel {
  const of = models.get(lampKinds) ?? new Map<string, ShelfModel>();
  models.set(lampKinds, of);
  const name = `${request.heightMm} ${key}`;
  const found = of.get(name) ?? modelOf(shelf, lampKinds, request);
  // The one that was asked for last stays longest.
  of.delete(name);
  of.set(name, found);
  const [oldest] = of.keys();
  if (of.size > MOST_MODELS && oldest !== undefined) of.delete(oldest);
  return found;
}

function modelOf(
  given: ShelfInRoom,
  lampKinds: readonly LampKind[],
  { heightMm, reflected }: ModelRequest,
): ShelfModel {
  const shelf = asFaced(given);
  const parts = bayParts(shelf, lampKinds);
  const lampsOf = parts.map((part) => lampsOfBay(shelf, parts, part, heightMm));
  const found = reflected ? reflectionOf(shelf, lampKinds, parts, lampsOf, heightMm) : null;
  const bays = found?.bays ?? null;
  const atBay = (bay: number, points: readonly PointMm[], scaleOf: ScaleOf) => {
    const scaled = everyLamp(entry(lampsOf, bay))
      .map((lamp) => ({ ...lamp, fluxUmolS: lamp.fluxUmolS * scaleOf(lamp.group) }))
      .filter((lamp) => lamp.fluxUmolS > 0);
    const sum = directAtPoints(scaled, points);
    const extra = bays?.(bay, points, scaleOf);
    return extra ? sum.map((direct, i) => direct + real(extra, i)) : sum;
  };
  return {
    groups: [
      ...new Set(shelf.lamps.map((lamp) => lamp.group)),
      ...(bays && litFromOutside(shelf) ? [OUTSIDE] : []),
    ],
    beside: found?.beside ?? [],
    returned: found?.returned ?? null,
    at: (points, scaleOfGroup = () => 1, from = () => 1) => {
      const scaleOf: ScaleOf = (key) => {
        const back = backGroupOf(key);
        if (back !== null) return scaleOfGroup(back) * from(BACK);
        const outside = outsideOf(key);
        return outside === null ? scaleOfGroup(key) : scaleOfGroup(OUTSIDE) * from(outside);
      };
      const [only, ...others] = parts;
      if (only && others.length === 0) return finite(atBay(0, points, scaleOf), points);
      const sum = new Float64Array(points.length);
      pointsByBay(parts, points).forEach(({ indices, local }, bay) => {
        const found = atBay(bay, local, scaleOf);
        indices.forEach((index, i) => {
          sum[index] = real(found, i);
        });
      });
      return finite(sum, points);
    },
  };
}

interface Reflection {
  bays: Reflected;
  beside: readonly string[];
  returned: Returned | null;
}

/** What the bays reflect; null where nothing comes back from above or from the sides. */
function reflectionOf(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  parts: readonly BayPart[],
  lampsOf: readonly BayLamps[],
  heightMm: number,
): Reflection | null {
  const shelves = parts.map((part) => part.shelf);
  // A canopy reflects upwards: without a surface above or beside it nothing comes back.
  const returns = shelves.some(
    ({ reflectances: { above, front, back, left, right } }) =>
      above > 0 || front > 0 || back > 0 || left > 0 || right > 0,
  );
  if (!returns && !facesLight(shelf)) return null;
  const edges = (shelf.boards ?? [])
    .map(({ downToMm }) => downToMm)
    .filter((edgeMm) => edgeMm > heightMm);
  const own = shelves.flatMap((one) => bayOf(one, heightMm, edges) ?? []);
  if (own.length < shelves.length) return null;
  const boxOf = (one: Shelf, mm: number) => bayOf(one, mm);
  const returned = returnedTo({ shelf, parts, heightMm, lampKinds, boxOf });
  const bays = parts.map((part, b) => {
    const box = entry(own, b);
    const asked = { shelf, part, heightMm, lampKinds, box, boxOf };
    return {
      shelf: part.shelf,
      alone: bayAlone(part, box, { lamps: shelf.lamps, lampKinds }),
      lamps: entry(lampsOf, b),
      around: surroundingsOf(asked, returned),
    };
  });
  const besides = bays.flatMap(({ around }) => around.besides);
  const beside = besides.flatMap(({ part, beyond }) => [
    part.bay.id,
    ...beyond.map(({ bayId }) => bayId),
  ]);
  return { bays: reflectingBays(shelf, bays), beside: [...new Set(beside)], returned };
}

/** Points of each bay in its own axes, with their place in the list. */
function pointsByBay(
  parts: readonly BayPart[],
  points: readonly PointMm[],
): { indices: number[]; local: PointMm[] }[] {
  const [first, ...others] = parts.map(({ bay }) => bay);
  if (!first) return [];
  const found = parts.map(() => ({ indices: [] as number[], local: [] as PointMm[] }));
  const bays: [Bay, ...Bay[]] = [first, ...others];
  points.forEach((point, index) => {
    const bay = bayAt(bays, point.xMm, point.yMm);
    const own = entry(found, bays.indexOf(bay));
    own.indices.push(index);
    // A point within a board is taken at the board's face.
    const { xMm, yMm, widthMm, depthMm } = bay.rect;
    own.local.push({
      xMm: Math.min(Math.max(point.xMm - xMm, 0), widthMm),
      yMm: Math.min(Math.max(point.yMm - yMm, 0), depthMm),
      zMm: point.zMm,
    });
  });
  return found;
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
