import { sides, type LampKind, type Shelf } from '../../../shared-types/rack';
import { hashOf, standOf, type Neighbour } from '../geometry';
import { photonFlux } from './flux';
import type { HungShelf, ShelfInRoom } from './inRoom';
import { litSize } from './size';
import { unlessRefused } from '../../words';

/**
 * What a shelf's light is made from, in short: its size, its surfaces and boards, what its sides face,
 * and its lamps as they hang. Of a shelf that a side faces the same, as far as `others` has it.
 * Meter readings hold for this alone. The canopy's height, trays, names and lamp groups have no part
 * in it.
 */
export function lightStamp(shelf: ShelfInRoom, lampKinds: readonly LampKind[]): string {
  const { widthMm, depthMm, clearanceMm, reflectances, lamps } = shelf;
  const { above, canopy, front, back, left, right } = reflectances;
  const hung = lamps.map((lamp) => {
    const kind = lampKinds.find(({ id }) => id === lamp.kindId);
    const { xMm, yMm, zMm, rotationDeg, tiltDeg, dimming } = lamp;
    return [xMm, yMm, zMm, rotationDeg, tiltDeg, dimming, kind ? lightOf(kind) : ''].join(' ');
  });
  const surfaces = [above, canopy, front, back, left, right];
  const boards = (shelf.boards ?? []).map(
    ({ direction, atMm, thicknessMm, reflectance, downToMm }) =>
      [direction, atMm, thicknessMm, reflectance, downToMm].join(' '),
  );
  // The same lamps give the same light in whatever order they were hung.
  const whole = [widthMm, depthMm, clearanceMm, surfaces, hung.sort()];
  const parts = boards.length > 0 ? [...whole, boards.sort()] : whole;
  const faced = facedOf(shelf, lampKinds);
  const standing = standingOf(shelf, lampKinds);
  return hashOf(
    JSON.stringify([
      ...parts,
      ...(faced.length > 0 ? [{ faced }] : []),
      ...(standing.length > 0 ? [{ standing }] : []),
    ]),
  );
}

/**
 * What its place in a room adds: the shelves that stand beside it with their lamps, and the room's own
 * figures. Of shelves farther off the lamps are not followed: they send little.
 */
function standingOf(shelf: ShelfInRoom, lampKinds: readonly LampKind[]): string[] {
  const found = (shelf.neighbours ?? []).filter((one) => one.found && one.board === 0);
  const beside = found.map((neighbour) => {
    const other = shelf.others?.find(({ id }) => id === neighbour.shelfId);
    return [poseWords(neighbour), ...(other ? besideOf(shelf, other, lampKinds) : [])].join(' ');
  });
  const { room } = shelf;
  if (!room) return beside.sort();
  const { xMm, yMm, turnDeg } = standOf(shelf);
  return [...beside.sort(), [xMm, yMm, turnDeg, ...Object.entries(room).sort().flat()].join(' ')];
}

const poseWords = ({ side, pose: { turnDeg, xMm, yMm } }: Neighbour): string =>
  [side, turnDeg, xMm, yMm].join(' ');

/** What its sides face, where that is said: figures and lamps that a reading was taken under. */
function facedOf(shelf: ShelfInRoom, lampKinds: readonly LampKind[]): string[] {
  return sides.flatMap((side) => {
    const facing = shelf.faces?.[side];
    if (!facing) return [];
    const said = [side, ...Object.entries(facing).sort().flat()];
    const other =
      facing.kind === 'shelf' ? shelf.others?.find(({ id }) => id === facing.shelfId) : undefined;
    return [[...said, ...(other ? besideOf(shelf, other, lampKinds) : [])].join(' ')];
  });
}

/** A faced shelf by itself, and how much higher it stands; those that it faces are not followed. */
function besideOf(shelf: Shelf, other: HungShelf, lampKinds: readonly LampKind[]): string[] {
  const alone: ShelfInRoom = { ...other };
  delete alone.others;
  delete alone.neighbours;
  delete alone.room;
  return [lightStamp(alone, lampKinds), String(other.heightMm - shelf.heightMm)];
}

// Lamp kinds never change in place, and a photometric file is long: each is read once.
const known = new WeakMap<LampKind, string>();

function lightOf(kind: LampKind): string {
  const before = known.get(kind);
  if (before !== undefined) return before;
  const { lengthMm, widthMm } = litSize(kind);
  // The same flux, said in another way, is the same but for its last digits.
  const flux = fluxFor(kind)?.toPrecision(9) ?? '';
  const found = hashOf([kind.shape, lengthMm, widthMm, flux, beamOf(kind)].join(' '));
  known.set(kind, found);
  return found;
}

/** Null where the lamp's light cannot be computed, which a notice tells. */
function fluxFor(kind: LampKind): number | null {
  return unlessRefused(() => photonFlux(kind).umolS);
}

function beamOf({ emission }: LampKind): string {
  switch (emission.kind) {
    case 'lambertian':
      return emission.kind;
    case 'beam':
      return `${emission.kind} ${emission.fullAngleDeg}`;
    case 'file':
      return emission.text;
    default:
      return emission satisfies never;
  }
}
