import { sides, type Shelf } from '../../../../shared-types/rack';
import { add, entry, real } from '../../entry';
import {
  addLampOnPatches,
  FACES,
  gather,
  reflectanceOfPatches,
  refuseLossless,
  solveRadiosity,
  type BayBox,
  type FaceGrid,
} from '../bay';
import { specularOf } from '../around/facing';
import type { Beside } from '../around/besides';
import { goesOn, imageOf, type Image } from '../around/mirrors';
import { isBare, outsideKey, roomKey, type Surroundings } from '../around/surroundings';
import { addOnFace, onFace, through } from '../around/wall';
import { withLampsClear } from '../sources/clear';
import { directAtPoints, readyLamps, type PointMm, type ReadyLamp } from '../sources/direct';
import { openingsOf, type Opening } from './openings';
import { lampsOnSurfaces, type BayLamps } from './underBoards';

/** By lamp group; of light from outside, by what sends it, see `outsideKey`. */
export type ScaleOf = (key: string) => number;

/** A bay's box, and what its patches give off by the direct light of lamps, by key. */
interface LitBox {
  box: BayBox;
  rho: Float64Array;
  byGroup: Map<string, Float64Array>;
}

/** Light that passes from a bay to another, or back to itself, for what arrives at its patches. */
interface Passage {
  from: number;
  to: number;
  pass: (arriving: Float64Array, entering: Float64Array) => void;
}

/** Light at points of one bay in its own axes, besides the direct light of the shelf's lamps: µmol m⁻² s⁻¹. */
export type Reflected = (bay: number, points: readonly PointMm[], scaleOf: ScaleOf) => Float64Array;

/**
 * What the bays of a shelf reflect, let pass beneath their boards, and get from what their sides
 * face. `shelves` are the bays, each as a shelf of its own, with their boxes, with the lamps that
 * reach them, and what is around them. Throws where a closed bay absorbs nothing.
 */
export function reflectingBays(
  shelf: Shelf,
  shelves: readonly Shelf[],
  boxes: readonly BayBox[],
  lampsOf: readonly BayLamps[],
  around: readonly Surroundings[],
): Reflected {
  const openings = openingsOf(shelf, boxes);
  const alone = openings.length === 0 && around.every(isBare);
  const lit = boxes.map((box, b): LitBox => {
    const bay = entry(shelves, b);
    const rho = reflectanceOfPatches(box, bay.reflectances);
    for (const { patches } of openings.filter(({ from }) => from === b)) {
      for (const patch of patches) rho[patch.leaves] = patch.rho;
    }
    if (alone) refuseLossless(rho);
    const byGroup = givenOff(lampsOnSurfaces(entry(lampsOf, b)), box, bay, rho, entry(around, b));
    return { box, rho, byGroup };
  });
  for (const opening of openings) addGapLight(opening, lit, lampsOf);
  const passages = [
    ...openings.map(({ from, to, patches }): Passage => ({
      from,
      to,
      pass: (arriving, entering) => {
        for (const { leaves, enters, through } of patches) {
          add(entering, enters, through * real(arriving, leaves));
        }
      },
    })),
    ...around.flatMap((one, b) => passagesAround(one, b, lit, entry(lampsOf, b).clear)),
  ];
  const keys = [...new Set(lit.flatMap(({ byGroup }) => [...byGroup.keys()]))];
  // The same lamps are asked about at many sets of points: solutions are kept, by their scales.
  const solved = new Map<string, Float64Array[]>();
  const solution = (scaleOf: ScaleOf): Float64Array[] => {
    const scales = keys.map(scaleOf).join(' ');
    const known = solved.get(scales);
    if (known) return known;
    if (solved.size >= MOST_KEPT) solved.clear();
    const found = solveTogether(lit, passages, scaleOf);
    solved.set(scales, found);
    return found;
  };
  return (bay, points, scaleOf) => {
    const sum = gather(entry(lit, bay).box, entry(solution(scaleOf), bay), points);
    const seen = lampsBesides(entry(around, bay), entry(shelves, bay), entry(lampsOf, bay).own);
    const scaled = seen.flatMap((lamp) => {
      const fluxUmolS = lamp.fluxUmolS * scaleOf(lamp.group);
      return fluxUmolS > 0 ? [{ ...lamp, fluxUmolS }] : [];
    });
    if (scaled.length === 0) return sum;
    const direct = directAtPoints(scaled, points);
    return sum.map((value, i) => value + real(direct, i));
  };
}

/** What patches give off for the direct light that falls on them, by key. */
function givenOff(
  lamps: readonly ReadyLamp[],
  box: BayBox,
  bay: Shelf,
  rho: Float64Array,
  { images, besides }: Surroundings,
): Map<string, Float64Array> {
  const faces = FACES.filter((face) => bay.reflectances[face] > 0).map((face) => box.faces[face]);
  const byGroup = emittedBy(lamps, box, faces, mattPart(box, bay, rho, { m: 0, n: 0 }, images));
  for (const image of images) {
    const matt = mattPart(box, bay, rho, image, images);
    const seen = lamps.map((lamp) => imageOf(lamp, image, bay));
    for (const [key, given] of emittedBy(seen, box, faces, matt)) addTo(byGroup, key, given);
  }
  for (const { lamps: through } of besides) {
    for (const [key, given] of emittedBy(through, box, faces, rho)) addTo(byGroup, key, given);
  }
  return byGroup;
}

/** Of each patch's reflectance, what is not followed further as in a mirror. */
function mattPart(
  box: BayBox,
  bay: Shelf,
  rho: Float64Array,
  image: { m: number; n: number },
  images: readonly Image[],
): Float64Array {
  if (images.length === 0) return rho;
  const matt = Float64Array.from(rho);
  for (const side of sides) {
    if (!goesOn(image, side, images)) continue;
    const { first, across, up } = box.faces[side];
    for (let i = first; i < first + across * up; i++) {
      matt[i] = real(rho, i) * (1 - specularOf(bay, side));
    }
  }
  return matt;
}

/** What patches give off for the direct light that falls on them, by lamp group. */
function emittedBy(
  lamps: readonly ReadyLamp[],
  box: BayBox,
  faces: readonly FaceGrid[],
  rho: Float64Array,
): Map<string, Float64Array> {
  const byGroup = directBy(lamps, box, faces);
  for (const onPatches of byGroup.values()) {
    onPatches.forEach((value, i) => {
      onPatches[i] = value * real(rho, i);
    });
  }
  return byGroup;
}

function addTo(byGroup: Map<string, Float64Array>, key: string, given: Float64Array): void {
  const sum = byGroup.get(key);
  if (sum) given.forEach((value, i) => add(sum, i, value));
  else byGroup.set(key, given);
}

/** Lamps that are seen otherwise than straight: in foils, and through the gaps to other shelves. */
function lampsBesides(
  { images, besides }: Surroundings,
  bay: Shelf,
  own: readonly ReadyLamp[],
): ReadyLamp[] {
  return [
    ...images.flatMap((image) => own.map((lamp) => imageOf(lamp, image, bay))),
    ...besides.flatMap(({ lamps }) => lamps),
  ];
}

/**
 * Adds what a bay's open sides let in to what its patches give off: from a wall, a lit room, and the
 * bays of other shelves, which come to the bays that are solved. Answers how light passes there.
 */
function passagesAround(
  { walls, rooms, besides }: Surroundings,
  b: number,
  lit: LitBox[],
  lamps: readonly ReadyLamp[],
): Passage[] {
  const { box, byGroup } = entry(lit, b);
  const put = (key: string, grid: FaceGrid, values: Float64Array) => {
    const given = new Float64Array(box.count);
    addOnFace(given, grid, values);
    addTo(byGroup, key, given);
  };
  for (const { side, ppfdUmol } of rooms) {
    const grid = box.faces[side];
    put(roomKey(side), grid, new Float64Array(grid.across * grid.up).fill(ppfdUmol));
  }
  const fromWalls = walls.map(({ side, wall, lamps: seen }): Passage => {
    const grid = box.faces[side];
    for (const lamp of seen) put(lamp.group, grid, wall.backOf(lamp));
    const pass: Passage['pass'] = (arriving, entering) => {
      addOnFace(entering, grid, wall.back(onFace(arriving, grid)));
    };
    return { from: b, to: b, pass };
  });
  const fromShelves = besides.flatMap((beside): Passage[] => {
    const { side, other, inwards, outwards } = beside;
    const [near, far] = [box.faces[side], beside.box.faces[other]];
    const at = lit.length;
    lit.push(besideCell(beside));
    // Direct light of the bay's own lamps goes over as what its side lets out.
    for (const [key, onSide] of directBy(lamps, box, [near])) {
      const given = new Float64Array(beside.box.count);
      addOnFace(given, far, through(outwards, onFace(onSide, near)));
      addTo(entry(lit, at).byGroup, key, given);
    }
    return [
      {
        from: at,
        to: b,
        pass: (arriving, entering) => {
          addOnFace(entering, near, through(inwards, onFace(arriving, far)));
        },
      },
      {
        from: b,
        to: at,
        pass: (arriving, entering) => {
          addOnFace(entering, far, through(outwards, onFace(arriving, near)));
        },
      },
    ];
  });
  return [...fromWalls, ...fromShelves];
}

/** A bay of another shelf as one that is solved with the rest. */
function besideCell({ part, box }: Beside): LitBox {
  const rho = reflectanceOfPatches(box, part.shelf.reflectances);
  const faces = FACES.filter((face) => part.shelf.reflectances[face] > 0);
  const lamps = readyLamps(withLampsClear(part.shelf), part.lampKinds).map((lamp) => ({
    ...lamp,
    group: outsideKey(part.bay.id),
  }));
  const grids = faces.map((face) => box.faces[face]);
  return { box, rho, byGroup: emittedBy(lamps, box, grids, rho) };
}

function directBy(
  lamps: readonly ReadyLamp[],
  box: BayBox,
  faces: readonly FaceGrid[],
): Map<string, Float64Array> {
  const byGroup = new Map<string, Float64Array>();
  for (const lamp of lamps) {
    if (lamp.fluxUmolS === 0) continue;
    byGroup.set(lamp.group, addLampOnPatches(box, lamp, faces, byGroup.get(lamp.group)));
  }
  return byGroup;
}

/**
 * Direct light that enters a gap and does not pass straight through falls on the canopy beneath the
 * board, and leaves from there on both sides.
 */
function addGapLight(
  { from, to, patches, nearMouth, farMouth }: Opening,
  lit: readonly LitBox[],
  lampsOf: readonly BayLamps[],
): void {
  const [near, far] = [entry(lit, from), entry(lit, to)];
  const entering = directBy(entry(lampsOf, from).clear, near.box, [nearMouth]);
  const straight = directBy(
    entry(lampsOf, to).under.flatMap((under) => (under.from === from ? under.lamps : [])),
    far.box,
    [farMouth],
  );
  for (const [group, onMouth] of entering) {
    const passed = straight.get(group);
    for (const { leaves, enters, offStrip, rho } of patches) {
      const direct = real(onMouth, leaves);
      const caught = Math.max(0, direct - (passed ? real(passed, enters) : 0));
      give(near, group, leaves, offStrip * caught - rho * direct);
      give(far, group, enters, offStrip * caught);
    }
  }
}

function give({ box, byGroup }: LitBox, group: string, patch: number, amount: number): void {
  const given = byGroup.get(group) ?? new Float64Array(box.count);
  byGroup.set(group, given);
  given[patch] = Math.max(0, real(given, patch) + amount);
}

const MOST_KEPT = 12;
const MOST_ROUNDS = 60;
const SETTLED = 1e-5;

/**
 * Each bay by itself, then what passes between them, until that settles: a gap lets little pass, and
 * of that little comes back.
 */
function solveTogether(
  lit: readonly LitBox[],
  passages: readonly Passage[],
  scaleOf: ScaleOf,
): Float64Array[] {
  const emitted = lit.map(({ box, byGroup }) => {
    const sum = new Float64Array(box.count);
    for (const [group, given] of byGroup) {
      const scale = scaleOf(group);
      for (let i = 0; i < sum.length; i++) add(sum, i, scale * real(given, i));
    }
    return sum;
  });
  const solve = (extra: readonly Float64Array[]) =>
    lit.map(({ box, rho }, b) => {
      const entering = entry(extra, b);
      const given = entry(emitted, b).map((value, i) => value + real(entering, i));
      return solveRadiosity(box, rho, given);
    });
  const none = () => lit.map(({ box }) => new Float64Array(box.count));
  let extra = none();
  for (let round = 1; ; round++) {
    const answers = solve(extra);
    const leaving = answers.map((answer) => answer.leaving);
    if (passages.length === 0 || round === MOST_ROUNDS) return leaving;
    const next = none();
    for (const { from, to, pass } of passages) {
      pass(entry(answers, from).arriving, entry(next, to));
    }
    if (hasSettled(extra, next)) return leaving;
    extra = next;
  }
}

function hasSettled(before: readonly Float64Array[], after: readonly Float64Array[]): boolean {
  let [change, most] = [0, 0];
  after.forEach((list, b) => {
    const old = entry(before, b);
    list.forEach((value, i) => {
      change = Math.max(change, Math.abs(value - real(old, i)));
      most = Math.max(most, value);
    });
  });
  return change <= SETTLED * most;
}
