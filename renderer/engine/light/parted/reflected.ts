import type { Shelf } from '../../../../shared-types/rack';
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
import type { PointMm, ReadyLamp } from '../sources/direct';
import { openingsOf, type Opening } from './openings';
import { lampsOnSurfaces, type BayLamps } from './underBoards';

type ScaleOf = (group: string) => number;

/** A bay's box, and what its patches give off by the direct light of lamps, by group. */
interface LitBox {
  box: BayBox;
  rho: Float64Array;
  byGroup: Map<string, Float64Array>;
}

/** Reflected light at points of one bay, in its own axes: µmol m⁻² s⁻¹. */
export type Reflected = (bay: number, points: readonly PointMm[], scaleOf: ScaleOf) => Float64Array;

/**
 * What the bays of a shelf reflect, and let pass beneath their boards. `shelves` are the bays, each
 * as a shelf of its own, with their boxes and with the lamps that reach them. Throws where a closed
 * bay absorbs nothing.
 */
export function reflectingBays(
  shelf: Shelf,
  shelves: readonly Shelf[],
  boxes: readonly BayBox[],
  lampsOf: readonly BayLamps[],
): Reflected {
  const openings = openingsOf(shelf, boxes);
  const lit = boxes.map((box, b): LitBox => {
    const { reflectances } = entry(shelves, b);
    const rho = reflectanceOfPatches(box, reflectances);
    for (const { patches } of openings.filter(({ from }) => from === b)) {
      for (const patch of patches) rho[patch.leaves] = patch.rho;
    }
    if (openings.length === 0) refuseLossless(rho);
    const faces = FACES.filter((face) => reflectances[face] > 0).map((face) => box.faces[face]);
    return { box, rho, byGroup: emittedBy(lampsOnSurfaces(entry(lampsOf, b)), box, faces, rho) };
  });
  for (const opening of openings) addGapLight(opening, lit, lampsOf);
  const groups = [...new Set(lit.flatMap(({ byGroup }) => [...byGroup.keys()]))];
  // The same lamps are asked about at many sets of points: the last solution is kept.
  let solved: { scales: string; leaving: Float64Array[] } | null = null;
  return (bay, points, scaleOf) => {
    const scales = groups.map(scaleOf).join(' ');
    if (solved?.scales !== scales) {
      solved = { scales, leaving: solveTogether(lit, openings, scaleOf) };
    }
    return gather(entry(lit, bay).box, entry(solved.leaving, bay), points);
  };
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

const MOST_ROUNDS = 60;
const SETTLED = 1e-6;

/**
 * Each bay by itself, then what passes between them, until that settles: a gap lets little pass, and
 * of that little comes back.
 */
function solveTogether(
  lit: readonly LitBox[],
  openings: readonly Opening[],
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
    if (openings.length === 0 || round === MOST_ROUNDS) return leaving;
    const next = none();
    for (const { from, to, patches } of openings) {
      const { arriving } = entry(answers, from);
      const entering = entry(next, to);
      for (const { leaves, enters, through } of patches) {
        add(entering, enters, through * real(arriving, leaves));
      }
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
