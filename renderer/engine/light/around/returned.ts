import {
  sides,
  type LampKind,
  type Room,
  type Shelf,
  type Side,
} from '../../../../shared-types/rack';
import { edgeOf } from './edge';
import { real } from '../../entry';
import {
  canopyHeightMm,
  footprint,
  inPose,
  OUTWARDS,
  quarterTurned,
  standKey,
  standOf,
  wallsBehind,
} from '../../geometry';
import type { ShelfInRoom } from '../../lamps';
import { FACES, solveRadiosity, type BayBox } from '../bay';
import type { BayPart } from '../parted/bayParts';
import { bayAlone, type BayAlone } from './bayAlone';
import { grownAs, partsOf, reaches } from './besides';
import { isOpen } from './facing';
import { roomBack, type RoomBack } from './roomBack';
import { type RoomOpening, type Solid, type Vector } from './roomSight';
import { onFace } from './wall';

/** Of a room surface that nobody has measured: a dark and a white one (common practice). */
const DARKEST = 0.2;
const WHITEST = 0.8;
/** Of what comes back from surfaces that are known (common practice): as of all reflected light. */
const KNOWN_WITHIN = 0.2;

/** What a room gives back to the bays of the shelf that is asked about. */
export interface Returned {
  /** PPFD upon an open side of a bay, by lamp group of the shelf itself. */
  own: (bay: string, side: Side) => ReadonlyMap<string, number>;
  /** The same of all other shelves' lamps. */
  others: (bay: string, side: Side) => number;
  /** Of what others send, the share of each of their bays. */
  from: () => ReadonlyMap<string, number>;
  /** How far what comes back may be off to either side, as a share of it. */
  within: number;
}

interface Asked {
  shelf: ShelfInRoom;
  parts: readonly BayPart[];
  heightMm: number;
  lampKinds: readonly LampKind[];
  boxOf: (shelf: Shelf, heightMm: number) => BayBox | null;
}

/** A bay of any shelf of the room, with its sides that open to it. */
interface BayOfRoom {
  shelf: Shelf;
  part: BayPart;
  alone: BayAlone;
  open: Side[];
}

/**
 * What escapes all bays of a room and comes back from its walls, floor and ceiling. Each bay sends what
 * leaves it when alone. null where no room is said.
 */
export function returnedTo(asked: Asked): Returned | null {
  const { shelf, parts, heightMm, lampKinds, boxOf } = asked;
  const { room } = shelf;
  if (!room) return null;
  const grown = grownAs(shelf, heightMm);
  const baysOf = (one: Shelf, its: readonly BayPart[], mm: number): BayOfRoom[] =>
    its.flatMap((part) => {
      const box = boxOf(part.shelf, mm);
      const close = wallsBehind(one, room).map(({ side }) => side);
      const open = sides.filter(
        (side) => isOpen(one, side) && reaches(one, part, side) && !close.includes(side),
      );
      if (!box || open.length === 0) return [];
      const alone = bayAlone(part, box, { lamps: one.lamps, lampKinds });
      return [{ shelf: one, part, alone, open }];
    });
  const own = baysOf(shelf, parts, heightMm);
  const theirs = (shelf.others ?? []).flatMap((other) =>
    baysOf(other, partsOf(other, lampKinds), canopyHeightMm(other, grown)),
  );
  // In one order whichever shelf asks, so that all of them share what is known of the room.
  const bays = [...own, ...theirs].sort((a, b) => (a.part.bay.id < b.part.bay.id ? -1 : 1));
  const places = bays.flatMap((bay) => bay.open.map((side) => ({ bay, side })));
  if (places.length === 0) return null;
  const [low, high] = backOf(room, bays, [shelf, ...(shelf.others ?? [])]);
  const at = (bay: string, side: Side) =>
    places.findIndex((place) => place.bay.part.bay.id === bay && place.side === side);
  const upon = (flux: Float64Array) => {
    if (flux.every((value) => value === 0)) return { mean: flux, off: flux };
    const [least, most] = [low.upon(flux), low === high ? null : high.upon(flux)];
    if (!most) return { mean: least, off: least.map((value) => KNOWN_WITHIN * value) };
    return {
      mean: least.map((value, i) => (value + real(most, i)) / 2),
      off: least.map((value, i) => Math.max((real(most, i) - value) / 2, KNOWN_WITHIN * value)),
    };
  };
  const leaving = places.map(({ bay, side }) => photonsOut(bay.alone, side));
  const sent = (counts: (bay: BayOfRoom, group: string) => boolean) =>
    Float64Array.from(places, ({ bay }, i) =>
      (leaving[i] ?? []).reduce((sum, [group, flux]) => sum + (counts(bay, group) ? flux : 0), 0),
    );
  const groups = [...new Set(shelf.lamps.map(({ group }) => group))];
  const byGroup = new Map(
    groups.map((group) => [group, upon(sent((bay, of) => own.includes(bay) && of === group))]),
  );
  const ofOthers = upon(sent((bay) => !own.includes(bay)));
  const mine = places.flatMap(({ bay }, i) => (own.includes(bay) ? [i] : []));
  const sum = (values: Float64Array) => mine.reduce((total, i) => total + real(values, i), 0);
  const all = [...byGroup.values(), ofOthers];
  const whole = all.reduce((total, { mean }) => total + sum(mean), 0);
  const off = all.reduce((total, one) => total + sum(one.off), 0);
  const sharesOfOthers = () => {
    const shares = theirs.map((bay): [string, number] => [
      bay.part.bay.id,
      sum(upon(sent((one) => one === bay)).mean),
    ]);
    const fromOthers = shares.reduce((total, [, value]) => total + value, 0);
    return new Map(shares.map(([id, value]) => [id, fromOthers > 0 ? value / fromOthers : 0]));
  };
  const valueAt = (values: Float64Array, bay: string, side: Side) => values[at(bay, side)] ?? 0;
  return {
    own: (bay, side) =>
      new Map([...byGroup].map(([group, { mean }]) => [group, valueAt(mean, bay, side)])),
    others: (bay, side) => valueAt(ofOthers.mean, bay, side),
    from: sharesOfOthers,
    within: whole > 0 ? off / whole : 0,
  };
}

/** What leaves a bay through an open side, by lamp group, µmol s⁻¹. */
function photonsOut({ box, leaves }: BayAlone, side: Side): [group: string, flux: number][] {
  const { patchAreaM2 } = box.faces[side];
  return [...leaves(side)].map(([group, values]) => [
    group,
    patchAreaM2 * values.reduce((sum, value) => sum + value, 0),
  ]);
}

// The shelves of one room ask one after the other.
let last: { key: string; back: readonly [RoomBack, RoomBack] } | null = null;

/** The room with the darkest and the whitest surfaces that it may have; twice the same where all are known. */
function backOf(
  room: Room,
  bays: readonly BayOfRoom[],
  shelves: readonly Shelf[],
): readonly [RoomBack, RoomBack] {
  const openings = bays.flatMap(openingsOfBay);
  const solids = shelves.map((shelf) => solidOf(shelf, bays)).sort((a, b) => compare(a, b));
  const key = JSON.stringify([room, openings, solids, bays.map(({ alone }) => surfacesOf(alone))]);
  if (last?.key === key) return last.back;
  const back = (unknown: number) =>
    roomBack(
      room,
      {
        walls: room.walls ?? unknown,
        floor: room.floor ?? unknown,
        ceiling: room.ceiling ?? unknown,
      },
      openings,
      solids,
    );
  const low = back(DARKEST);
  const all = room.walls !== undefined && room.floor !== undefined && room.ceiling !== undefined;
  const found = [low, all ? low : back(WHITEST)] as const;
  last = { key, back: found };
  return found;
}

const compare = (a: Solid, b: Solid) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

const surfacesOf = ({ box, rho }: Pick<BayAlone, 'box' | 'rho'>) => [
  box.size,
  ...FACES.map((face) => rho[box.faces[face].first]),
];

function openingsOfBay({ shelf, part, alone, open }: BayOfRoom): RoomOpening[] {
  const { rect } = part.bay;
  const { widthMm, depthMm, bottomMm, topMm } = alone.box.size;
  const stand = standOf(shelf);
  return open.map((side): RoomOpening => {
    const [x1, y1, x2, y2] = edgeOf(side, widthMm, depthMm);
    const [one, other] = [
      inPose(stand, rect.xMm + x1, rect.yMm + y1),
      inPose(stand, rect.xMm + x2, rect.yMm + y2),
    ];
    const [x, y] = quarterTurned(stand.turnDeg, ...OUTWARDS[side]);
    const passed = passesFrom(alone, side);
    return {
      bayKey: part.bay.id,
      low: [Math.min(one[0], other[0]), Math.min(one[1], other[1]), shelf.heightMm + bottomMm],
      high: [Math.max(one[0], other[0]), Math.max(one[1], other[1]), shelf.heightMm + topMm],
      outwards: [x, y, 0],
      passesTo: open.map((to) => passed[to]),
    };
  });
}

function solidOf(shelf: Shelf, bays: readonly BayOfRoom[]): Solid {
  const { xMm, yMm, widthMm, depthMm } = footprint(shelf);
  const low: Vector = [xMm, yMm, shelf.heightMm];
  const high: Vector = [xMm + widthMm, yMm + depthMm, shelf.heightMm + shelf.clearanceMm];
  const own = bays.filter((bay) => bay.shelf.id === shelf.id);
  return { bayKeys: own.map(({ part }) => part.bay.id), rackKey: standKey(shelf), low, high };
}

// Bays of a room are mostly alike.
const passing = new Map<string, Record<Side, number>>();
const MOST_PASSING = 32;

/** Of light that enters a side evenly with 1 µmol m⁻² s⁻¹, what arrives at each side, mean. */
function passesFrom({ box, rho }: Pick<BayAlone, 'box' | 'rho'>, side: Side): Record<Side, number> {
  const key = JSON.stringify([side, surfacesOf({ box, rho }), box.cuts]);
  const before = passing.get(key);
  if (before) return before;
  if (passing.size >= MOST_PASSING) passing.clear();
  const { first, across, up } = box.faces[side];
  const given = new Float64Array(box.count);
  given.fill(1, first, first + across * up);
  const { arriving } = solveRadiosity(box, rho, given);
  const mean = (to: Side) => {
    const values = onFace(arriving, box.faces[to]);
    return values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  const found = {
    left: mean('left'),
    right: mean('right'),
    front: mean('front'),
    back: mean('back'),
  };
  passing.set(key, found);
  return found;
}
