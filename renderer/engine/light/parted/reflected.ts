import { sides, type Shelf } from '../../../../shared-types/rack';
import { add, entry, real } from '../../entry';
import {
  addLampOnPatches,
  FACES,
  gather,
  reflectanceOfPatches,
  refuseLossless,
  type BayBox,
  type FaceGrid,
} from '../bay';
import { addTo, type BayAlone } from '../around/bayAlone';
import { specularOf } from '../around/facing';
import { goesOn, imageOf, type Image } from '../around/mirrors';
import { passagesAround } from '../around/passages';
import { smoothLight } from '../around/smoothLight';
import { isBare, type Surroundings } from '../around/surroundings';
import { directAtPoints, type PointMm, type ReadyLamp } from '../sources/direct';
import { openingsOf, type Opening } from './openings';
import { solveTogether, type LitBox, type Passage, type ScaleOf } from './together';
import type { BayLamps } from './underBoards';

/** A bay of the shelf as it is lit: by itself, its lamps, and what is around it. */
export interface LitBay {
  shelf: Shelf;
  alone: BayAlone;
  lamps: BayLamps;
  around: Surroundings;
}

/** Light at points of one bay in its own axes, besides the direct light of the shelf's lamps: µmol m⁻² s⁻¹. */
export type Reflected = (bay: number, points: readonly PointMm[], scaleOf: ScaleOf) => Float64Array;

const MOST_KEPT = 48;

/**
 * What the bays of a shelf reflect, let pass beneath their boards, and get from what their sides
 * face. Throws where a closed bay absorbs nothing.
 */
export function reflectingBays(shelf: Shelf, bays: readonly LitBay[]): Reflected {
  const boxes = bays.map(({ alone }) => alone.box);
  const openings = openingsOf(shelf, boxes);
  const bare = openings.length === 0 && bays.every(({ around }) => isBare(around));
  const lit = bays.map((bay, b): LitBox => {
    const rho = reflectanceOfPatches(bay.alone.box, bay.shelf.reflectances);
    for (const { patches } of openings.filter(({ from }) => from === b)) {
      for (const patch of patches) rho[patch.leaves] = patch.rho;
    }
    if (bare) refuseLossless(rho);
    return { box: bay.alone.box, rho, byGroup: givenOff(bay, rho) };
  });
  for (const opening of openings) addGapLight(opening, lit, bays);
  const passages = [
    ...openings.map(({ from, to, patches, nearMouth }): Passage => ({
      from,
      to,
      face: nearMouth,
      pass: (arriving, entering) => {
        for (const { leaves, enters, through } of patches) {
          add(entering, enters, through * real(arriving, leaves));
        }
      },
    })),
    ...bays.flatMap(({ around, alone }, b) => passagesAround(around, b, lit, alone)),
  ];
  const keys = [...new Set(lit.flatMap(({ byGroup }) => [...byGroup.keys()]))];
  // The same lamps are asked about at many sets of points: solutions are kept, by their scales.
  const solved = new Map<string, Float64Array[]>();
  const solution = (scaleOf: ScaleOf): Float64Array[] => {
    const scales = keys.map(scaleOf).join(' ');
    const known = solved.get(scales);
    if (known) return known;
    if (solved.size >= MOST_KEPT) solved.clear();
    // Bays of other shelves, which are solved with these, are not asked about.
    const found = solveTogether(lit, passages, scaleOf).slice(0, bays.length);
    solved.set(scales, found);
    return found;
  };
  return (b, points, scaleOf) => {
    const bay = entry(bays, b);
    const sum = gather(bay.alone.box, entry(solution(scaleOf), b), points);
    const scaled = (lamps: readonly ReadyLamp[]) =>
      lamps.flatMap((lamp) => {
        const fluxUmolS = lamp.fluxUmolS * scaleOf(lamp.group);
        return fluxUmolS > 0 ? [{ ...lamp, fluxUmolS }] : [];
      });
    const { near, far } = lampsBesides(bay);
    const added = [
      directAtPoints(scaled(near), points),
      smoothLight(scaled(far), bay.shelf, points),
    ];
    return sum.map((value, i) => added.reduce((total, light) => total + real(light, i), value));
  };
}

/** What patches give off for the direct light that falls on them, by key. */
function givenOff(bay: LitBay, rho: Float64Array): Map<string, Float64Array> {
  const { shelf, alone, lamps } = bay;
  const { box } = alone;
  const { images, besides } = bay.around;
  const under = lamps.under.flatMap((one) => one.lamps);
  const lit = FACES.filter((face) => shelf.reflectances[face] > 0);
  const faces = lit.map((face) => box.faces[face]);
  const matt = mattPart(box, shelf, rho, { m: 0, n: 0 }, images);
  const byGroup = emittedBy(under, box, faces, matt);
  for (const face of lit) {
    for (const [group, direct] of alone.directOn(face)) {
      addTo(
        byGroup,
        group,
        direct.map((value, i) => value * real(matt, i)),
      );
    }
  }
  for (const image of images) {
    const rest = mattPart(box, shelf, rho, image, images);
    const seen = [...lamps.clear, ...under].map((lamp) => imageOf(lamp, image, shelf));
    for (const [key, given] of emittedBy(seen, box, faces, rest)) addTo(byGroup, key, given);
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

/**
 * Lamps that are seen otherwise than straight: in foils, and through the gaps to other shelves. Far are
 * those that light has met two foils or more from.
 */
function lampsBesides({ shelf, lamps, around: { images, besides } }: LitBay) {
  const seenIn = (some: readonly Image[]) =>
    some.flatMap((image) => lamps.own.map((lamp) => imageOf(lamp, image, shelf)));
  const isFar = ({ m, n }: Image) => Math.abs(m) > 1 || Math.abs(n) > 1;
  return {
    near: [
      ...seenIn(images.filter((image) => !isFar(image))),
      ...besides.flatMap(({ lamps: seen }) => seen),
    ],
    far: seenIn(images.filter(isFar)),
  };
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
  bays: readonly LitBay[],
): void {
  const [near, far] = [entry(lit, from), entry(lit, to)];
  const entering = entry(bays, from).alone.directOn(nearMouth.face);
  const straight = directBy(
    entry(bays, to).lamps.under.flatMap((under) => (under.from === from ? under.lamps : [])),
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
  const given = Float64Array.from(byGroup.get(group) ?? new Float64Array(box.count));
  byGroup.set(group, given);
  given[patch] = Math.max(0, real(given, patch) + amount);
}
