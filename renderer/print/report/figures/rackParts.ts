import type { Plan } from '../../../../shared-types/plan';
import type { Shelf, Tray } from '../../../../shared-types/rack';
import { planAsGrown } from '../../../derive';
import { COLUMN, type Findings } from '../../../engine/findings';
import { boardRect, potsOfRack, trayCode, type Pot, type Rect } from '../../../engine/geometry';
import { potOnRack } from '../inRun';
import type { PictureRoles } from './roles';

const GAP = 14;
const HEAD = 16;
/** Height of all shelves together, as a share of the width. */
const TALLEST = 0.36;

/** A rectangle on the page, px from its upper left corner. */
interface Box {
  x1: number;
  x2: number;
  y1: number;
  y2: number;
}

/** `ground`: the level of the panels' factor that the whole of it has; null: none, or of several. */
interface TrayBox extends Box {
  ground: string | null;
}

export interface PlantMark {
  x: number;
  y: number;
  r: number;
  /** Of its own; null: none, or the tray's ground tells it. */
  ground: string | null;
  /** Of the marks' factor; null: the pot was not analysed. */
  level: string | null;
}

/** The levels of an analysed pot. */
interface PotLevels {
  panel: string;
  level: string;
}

/** What the picture of the rack as treated is drawn of, where it stands on a page of this width, px. */
export function rackParts(plan: Plan, findings: Findings, roles: PictureRoles, width: number) {
  const { rack } = planAsGrown(plan);
  const pots = potsOfRack(rack);
  const levels = levelsByPot(findings, roles, potOnRack(plan));
  const { height, shelves } = placesOf(rack.shelves, width);
  const split = roles.panel !== null;
  const trays = shelves.flatMap((place) =>
    place.shelf.trays.map((tray) =>
      trayParts(
        tray,
        place,
        pots.filter(({ trayId }) => trayId === tray.id),
        { levels, split },
      ),
    ),
  );
  return {
    height,
    shelves: shelves.map(shelfBox),
    trays: trays.map(({ box }) => box),
    pots: trays.flatMap(({ marks }) => marks),
    boards: shelves.flatMap((place) =>
      (place.shelf.boards ?? []).map((board) => boxIn(boardRect(place.shelf, board), place)),
    ),
  };
}

interface Place {
  shelf: Shelf;
  /** Px a millimetre. */
  scale: number;
  x: number;
  y: number;
}

const upOf =
  ({ shelf, y, scale }: Place) =>
  (yMm: number) =>
    y + (shelf.depthMm - yMm) * scale;

const shelfBox = ({ shelf, x, y, scale }: Place) => ({
  x1: x,
  x2: x + shelf.widthMm * scale,
  y1: y,
  y2: y + shelf.depthMm * scale,
  name: `Shelf ${shelf.number}`,
  trays: shelf.trays.map((tray) => trayCode(shelf.number, tray.letter)),
});

function boxIn(of: Rect, place: Place): Box {
  const up = upOf(place);
  const { x, scale } = place;
  return {
    x1: x + of.xMm * scale,
    x2: x + (of.xMm + of.widthMm) * scale,
    y1: up(of.yMm),
    y2: up(of.yMm + of.depthMm),
  };
}

/** A tray and its pots; the ground is the tray's where all of its pots have the same. */
function trayParts(
  tray: Tray,
  place: Place,
  pots: readonly Pot[],
  { levels, split }: { levels: ReadonlyMap<string, PotLevels>; split: boolean },
): { box: TrayBox; marks: PlantMark[] } {
  const panels = new Set(pots.flatMap((pot) => levels.get(pot.id)?.panel ?? []));
  const [panel = null] = panels;
  const uniform = split && panels.size === 1;
  const marks = pots.map((pot): PlantMark => {
    const found = levels.get(pot.id);
    return {
      x: place.x + pot.xMm * place.scale,
      y: upOf(place)(pot.yMm),
      r: (pot.diameterMm / 2) * place.scale,
      ground: split && !uniform ? (found?.panel ?? null) : null,
      level: found?.level ?? null,
    };
  });
  return { box: { ...boxIn(tray, place), ground: uniform ? panel : null }, marks };
}

/** Levels of every pot that was analysed. */
function levelsByPot(
  { table, pots }: Findings,
  { panel, level }: PictureRoles,
  onRack: ReturnType<typeof potOnRack>,
): ReadonlyMap<string, PotLevels> {
  const values = table.columns[COLUMN.response] ?? [];
  const named = (column: string | undefined, row: number) =>
    String((column === undefined ? null : table.columns[column]?.[row]) ?? '');
  return new Map(
    pots.flatMap((pot, row) => {
      const id = onRack(pot);
      if (typeof values[row] !== 'number' || id === null) return [];
      const at = { panel: named(panel?.column, row), level: named(level.column, row) };
      return [[id, at] as const];
    }),
  );
}

/** Shelves beside each other from the lowest, in as few rows as keep the picture low. */
function placesOf(shelves: readonly Shelf[], width: number): { height: number; shelves: Place[] } {
  const widest = Math.max(1, ...shelves.map((shelf) => shelf.widthMm));
  const deepest = Math.max(1, ...shelves.map((shelf) => shelf.depthMm));
  const ways = shelves.map((_, i) => {
    const columns = i + 1;
    const scale = (width - (columns - 1) * GAP) / columns / widest;
    const rows = Math.ceil(shelves.length / columns);
    return { columns, scale, rowPx: deepest * scale + HEAD, rows };
  });
  const low = ways.find(({ rows, rowPx }) => rows * rowPx <= width * TALLEST) ?? ways.at(-1);
  const { columns, rows } = low ?? { columns: 1, rows: 0 };
  const room = rows > 0 ? (width * TALLEST) / rows - HEAD : 0;
  const scale = Math.min(low?.scale ?? 0, room / deepest);
  const rowPx = deepest * scale + HEAD;
  return {
    height: rows * rowPx,
    shelves: shelves.map((shelf, i) => ({
      shelf,
      scale,
      x: (i % columns) * (widest * scale + GAP) + 0.5,
      y: Math.floor(i / columns) * rowPx + HEAD - 1,
    })),
  };
}
