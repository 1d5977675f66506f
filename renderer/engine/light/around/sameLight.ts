import { sides, type Lamp, type Shelf } from '../../../../shared-types/rack';
import { baysOf, type Neighbour } from '../../geometry';
import type { ShelfInRoom } from '../../lamps';

/*
 * Racks are mostly made of shelves that are alike. The light of a shelf is worked out for a stand-in
 * that holds nothing but what light depends on, so that shelves with the same stand-in have, to the
 * last bit, the same light.
 */

/** A shelf without its names, its place, and all else that its light does not depend on. */
export interface StandIn {
  /** Of shelves with the same light the same; null in a room, where no two have quite the same. */
  key: string | null;
  shelf: ShelfInRoom;
  /** The bays of the shelf and of those around it, by their names in the stand-in. */
  bayIds: ReadonlyMap<string, string>;
  /** The same of the shelf's lamp groups. */
  groups: ReadonlyMap<string, string>;
}

type Renamed = (shelfId: string) => string;

/** Lamp groups in the order of their first lamp. */
const groupsOf = ({ lamps }: Pick<Shelf, 'lamps'>) => [...new Set(lamps.map(({ group }) => group))];
const groupName = (nth: number) => `group ${nth}`;
const groupNames = (shelf: Shelf): StandIn['groups'] =>
  new Map(groupsOf(shelf).map((group, nth) => [groupName(nth), group]));
const bayName = (shelf: string, nth: number) => `${shelf} ${nth}`;

/** What of a shelf its light depends on; its height above the floor and its place are in poses. */
function bare(shelf: Shelf, id: string, renamed: Renamed): Shelf {
  const { widthMm, depthMm, clearanceMm, canopy, reflectances, faces, boards, bays } = shelf;
  // Canopies of trays tell how high the leaves stand that reflect.
  const grown = shelf.trays.some((tray) => tray.canopy !== undefined);
  const groups = groupsOf(shelf);
  const hung = ({ leadEnd: _, ...lamp }: Lamp, nth: number): Lamp => ({
    ...lamp,
    id: String(nth),
    group: groupName(groups.indexOf(lamp.group)),
  });
  return {
    id,
    number: 1,
    widthMm,
    depthMm,
    clearanceMm,
    canopy,
    reflectances,
    heightMm: 0,
    ratedLoadKg: null,
    ...(faces && { faces: facesOf(faces, renamed) }),
    trays: (grown ? shelf.trays : []).map((tray) => ({
      id: '',
      letter: 'A',
      xMm: 0,
      yMm: 0,
      rimHeightMm: 1,
      grid: null,
      widthMm: tray.widthMm,
      depthMm: tray.depthMm,
      ...(tray.canopy && { canopy: tray.canopy }),
    })),
    lamps: shelf.lamps.map(hung),
    ...(boards && { boards: boards.map((board, nth) => ({ ...board, id: String(nth) })) }),
    bays: (bays ?? baysOf(shelf)).map((_, nth) => ({ id: bayName(id, nth) })),
  };
}

function facesOf(faces: NonNullable<Shelf['faces']>, renamed: Renamed): Shelf['faces'] {
  return Object.fromEntries(
    sides.flatMap((side) => {
      const facing = faces[side];
      if (!facing) return [];
      const named = facing.kind === 'shelf' ? { shelfId: renamed(facing.shelfId) } : {};
      return [[side, { ...facing, ...named }]];
    }),
  );
}

/** The stand-in of a shelf. */
export function standInOf(shelf: ShelfInRoom): StandIn {
  if (shelf.room) return inRoom(shelf);
  const others = shelf.others ?? [];
  const names = new Map([shelf, ...others].map(({ id }, nth) => [id, String(nth)]));
  const renamed: Renamed = (id) => names.get(id) ?? '';
  const facing = (neighbours: readonly Neighbour[]) =>
    neighbours.map((neighbour) => ({ ...neighbour, shelfId: renamed(neighbour.shelfId) }));
  const around = others.map((other, nth) => bare(other, String(nth + 1), renamed));
  const theirs = [...(shelf.theirs ?? [])].map(
    ([id, neighbours]) => [renamed(id), facing(neighbours)] as const,
  );
  const beside = {
    ...(shelf.neighbours && { neighbours: facing(shelf.neighbours) }),
    ...(shelf.behind && { behind: shelf.behind }),
  };
  const own = bare(shelf, '0', renamed);
  const named = [shelf, ...others].flatMap((one, nth) =>
    baysOf(one).map(({ id }, bay) => [bayName(String(nth), bay), id] as const),
  );
  return {
    key: JSON.stringify([own, around, theirs, beside]),
    shelf: {
      ...withKeptLamps(own),
      ...beside,
      ...(shelf.others && { others: around.map(withKeptLamps) }),
      ...(shelf.theirs && { theirs: new Map(theirs) }),
    },
    bayIds: new Map(named),
    groups: groupNames(shelf),
  };
}

/** In a room shelves keep their names and places; their lamps are those of shelves that are alike. */
function inRoom(shelf: ShelfInRoom): StandIn {
  const others = shelf.others?.map(litAlike);
  return {
    key: null,
    shelf: { ...shelf, ...litAlike(shelf), ...(others && { others }) },
    bayIds: new Map(),
    groups: groupNames(shelf),
  };
}

// The shelves of a room ask about each other, and know them again as the same objects.
const alike = new WeakMap<Shelf, Shelf>();

function litAlike(shelf: Shelf): Shelf {
  const before = alike.get(shelf);
  if (before) return before;
  const { lamps } = withKeptLamps(bare(shelf, '', () => ''));
  const found = { ...shelf, lamps };
  alike.set(shelf, found);
  return found;
}

// What is known of a bay is kept with its lamps: shelves that are alike are given the same.
const lampsOf = new Map<string, Shelf['lamps']>();
const MOST_LAMPS = 64;

function withKeptLamps<S extends Shelf>(shelf: S): S {
  const { id: _, bays: __, ...rest } = shelf;
  const key = JSON.stringify(rest);
  const before = lampsOf.get(key);
  if (before) return { ...shelf, lamps: before };
  if (lampsOf.size >= MOST_LAMPS) lampsOf.clear();
  lampsOf.set(key, shelf.lamps);
  return shelf;
}
