import type { Lamp, LampKind, Side } from '../../../../shared-types/rack';
import { real } from '../../entry';
import {
  addLampOnPatches,
  FACES,
  reflectanceOfPatches,
  solveRadiosity,
  type BayBox,
  type Face,
} from '../bay';
import type { BayPart } from '../parted/bayParts';
import { withLampsClear } from '../sources/clear';
import { readyLamps, type ReadyLamp } from '../sources/direct';
import { onFace } from './wall';

/** By lamp group, on the patches of one face or of a whole bay: µmol m⁻² s⁻¹. */
export type ByGroup = ReadonlyMap<string, Float64Array>;

/** A bay with nothing around it: foils count as matt. */
export interface BayAlone {
  box: BayBox;
  rho: Float64Array;
  /** Direct light of its own lamps on the patches of a face; on the whole bay's list of patches. */
  directOn: (face: Face) => ByGroup;
  /** What its patches give off for the direct light of its lamps. */
  givenOff: () => ByGroup;
  /** What leaves through an open side, by the patches of the side. */
  leaves: (side: Side) => ByGroup;
}

// Neighbours, and all bays of a room, ask for the same bays: what is known of one is kept with its lamps.
interface Kept {
  lampKinds: readonly LampKind[];
  bays: Map<string, BayAlone>;
}
const known = new WeakMap<readonly Lamp[], Kept>();
const MOST_KEPT = 12;

/** The shelf of a bay as the plan holds it: by its lamps a bay is known again. */
export interface FromPlan {
  lamps: readonly Lamp[];
  lampKinds: readonly LampKind[];
}

/** A bay of a shelf by itself. */
export function bayAlone(part: BayPart, box: BayBox, { lamps, lampKinds }: FromPlan): BayAlone {
  const before = known.get(lamps);
  const kept = before?.lampKinds === lampKinds ? before : { lampKinds, bays: new Map() };
  known.set(lamps, kept);
  const { rect } = part.bay;
  const surfaces = FACES.map((face) => part.shelf.reflectances[face]);
  const sizes = [...Object.values(box.size), ...Object.values(box.cuts)];
  const name = [...sizes, ...surfaces, rect.xMm, rect.yMm].join(' ');
  const found = kept.bays.get(name);
  if (found) return found;
  if (kept.bays.size >= MOST_KEPT) kept.bays.clear();
  const made = makeAlone(part, box);
  kept.bays.set(name, made);
  return made;
}

function makeAlone({ shelf, lampKinds }: BayPart, box: BayBox): BayAlone {
  const rho = reflectanceOfPatches(box, shelf.reflectances);
  const ready = once(() => readyLamps(withLampsClear(shelf), lampKinds));
  const byFace = new Map<Face, ByGroup>();
  const directOn = (face: Face): ByGroup => {
    const before = byFace.get(face);
    if (before) return before;
    const found = directBy(ready(), box, face);
    byFace.set(face, found);
    return found;
  };
  const givenOff = once((): ByGroup => {
    const sum = new Map<string, Float64Array>();
    for (const face of FACES) {
      if (!(shelf.reflectances[face] > 0)) continue;
      for (const [group, onFaces] of directOn(face)) {
        const given = onFaces.map((value, i) => value * real(rho, i));
        addTo(sum, group, given);
      }
    }
    return sum;
  });
  const arriving = once((): ByGroup =>
    mapped(givenOff(), (given) => solveRadiosity(box, rho, given).arriving),
  );
  const bySide = new Map<Side, ByGroup>();
  const leaves = (side: Side): ByGroup => {
    const before = bySide.get(side);
    if (before) return before;
    const grid = box.faces[side];
    const sum = mapped(directOn(side), (direct) => onFace(direct, grid));
    for (const [group, all] of arriving()) addTo(sum, group, onFace(all, grid));
    bySide.set(side, sum);
    return sum;
  };
  return { box, rho, directOn, givenOff, leaves };
}

/** Direct light of lamps on the patches of a face, by group. */
function directBy(lamps: readonly ReadyLamp[], box: BayBox, face: Face): ByGroup {
  const sum = new Map<string, Float64Array>();
  for (const lamp of lamps) {
    if (lamp.fluxUmolS === 0) continue;
    sum.set(lamp.group, addLampOnPatches(box, lamp, [box.faces[face]], sum.get(lamp.group)));
  }
  return sum;
}

function mapped(from: ByGroup, change: (values: Float64Array) => Float64Array) {
  return new Map([...from].map(([group, values]) => [group, change(values)]));
}

/** Adds to what is there of a key. */
export function addTo(sum: Map<string, Float64Array>, key: string, values: Float64Array): void {
  const before = sum.get(key);
  sum.set(key, before ? before.map((value, i) => value + real(values, i)) : values);
}

function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}
