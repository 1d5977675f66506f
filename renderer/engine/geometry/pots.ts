import type { PotGrid, Rack, Shelf, Tray } from '../../../shared-types/rack';
import { bayAt, baysOf } from './bays';
import { potCode, potId } from './codes';

/** One pot standing in one hole of a tray's grid. */
export interface Pot {
  id: string;
  code: string;
  shelfId: string;
  trayId: string;
  /** The bay that its centre stands in. */
  bayId: string;
  /** Counted from 1: rows from the front, columns from the left. */
  row: number;
  column: number;
  /** Centre, in the shelf's axes. */
  xMm: number;
  yMm: number;
  diameterMm: number;
  heightMm: number;
  /** Guard pots are grown like the others and never analysed. */
  guard: boolean;
  /** Stands in the outermost row or column of its tray's grid. */
  onEdge: boolean;
  /** From the pot's centre to the nearest side of its tray. */
  edgeDistanceMm: number;
}

/** What a treatment makes of one pot; what it leaves out is as the tray's grid says. */
export interface PotSize {
  diameterMm?: number;
  heightMm?: number;
}

/** A tray in which pots may have sizes of their own, by hole (`row:column`). */
export interface SizedTray extends Tray {
  sizes?: Readonly<Record<string, PotSize>>;
}

/** Diameter of the widest pot of a tray, mm; 0 without a grid. */
export function widestPotMm({ grid, sizes = {} }: SizedTray): number {
  const own = Object.values(sizes).map(({ diameterMm = 0 }) => diameterMm);
  return Math.max(grid?.potDiameterMm ?? 0, ...own);
}

/** Centre of a hole, from the tray's front left corner. Rows and columns count from 1. */
export function holeCentre(
  grid: PotGrid,
  row: number,
  column: number,
): { xMm: number; yMm: number } {
  const shift = grid.pattern === 'staggered' && row % 2 === 0 ? grid.pitchXMm / 2 : 0;
  return {
    xMm: grid.firstXMm + (column - 1) * grid.pitchXMm + shift,
    yMm: grid.firstYMm + (row - 1) * grid.pitchYMm,
  };
}

interface Potted {
  /** What of the shelf the pots of a tray rest on. */
  on: readonly unknown[];
  pots: readonly Pot[];
}

const known = new WeakMap<SizedTray, Potted>();

/** The mark of a draft of Immer, which changes under the same name while a command is carried out. */
const DRAFT = Symbol.for('immer-state');
const isDraft = (thing: object): boolean => Reflect.get(thing, DRAFT) !== undefined;

/**
 * Pots of one tray, row by row from the front left; empty holes are left out. The same list while the
 * tray and what it stands on stay: a rack in which one tray moves lists the pots of that one anew.
 */
export function potsOfTray(shelf: Shelf, tray: SizedTray): readonly Pot[] {
  if (isDraft(tray) || isDraft(shelf)) return listed(shelf, tray);
  const { id, number, widthMm, depthMm, boards, bays } = shelf;
  const on = [id, number, widthMm, depthMm, boards, bays];
  const last = known.get(tray);
  if (last && on.every((part, i) => part === last.on[i])) return last.pots;
  const pots = listed(shelf, tray);
  known.set(tray, { on, pots });
  return pots;
}

function listed(shelf: Shelf, tray: SizedTray): Pot[] {
  const { grid, sizes = {} } = tray;
  if (!grid) return [];
  const empty = new Set(grid.empty);
  const picked = new Set(grid.guards);
  const bays = baysOf(shelf);
  const pots: Pot[] = [];
  for (let row = 1; row <= grid.rows; row++) {
    for (let column = 1; column <= grid.columns; column++) {
      const hole = `${row}:${column}`;
      if (empty.has(hole)) continue;
      const centre = holeCentre(grid, row, column);
      const xMm = tray.xMm + centre.xMm;
      const yMm = tray.yMm + centre.yMm;
      const onEdge = row === 1 || column === 1 || row === grid.rows || column === grid.columns;
      pots.push({
        id: potId(tray.id, row, column),
        code: potCode(shelf.number, tray.letter, row, column),
        shelfId: shelf.id,
        trayId: tray.id,
        bayId: bayAt(bays, xMm, yMm).id,
        row,
        column,
        xMm,
        yMm,
        diameterMm: sizes[hole]?.diameterMm ?? grid.potDiameterMm,
        heightMm: sizes[hole]?.heightMm ?? grid.potHeightMm,
        guard: picked.has(hole) || (grid.guardRing && onEdge),
        onEdge,
        edgeDistanceMm: Math.min(
          centre.xMm,
          tray.widthMm - centre.xMm,
          centre.yMm,
          tray.depthMm - centre.yMm,
        ),
      });
    }
  }
  return pots;
}

/** All pots of the rack, shelf by shelf and tray by tray in the order they are listed. */
export function potsOfRack(rack: Rack): Pot[] {
  return rack.shelves.flatMap((shelf) => shelf.trays.flatMap((tray) => potsOfTray(shelf, tray)));
}

/** How many pots of a given pitch fit in a tray, all inside its sides. Zero when none does. */
export function gridThatFits(
  trayWidthMm: number,
  trayDepthMm: number,
  pot: {
    diameterMm: number;
    pitchXMm: number;
    pitchYMm: number;
    pattern: 'square' | 'staggered';
  },
): { rows: number; columns: number; firstXMm: number; firstYMm: number } {
  const stagger = pot.pattern === 'staggered' ? pot.pitchXMm / 2 : 0;
  const along = (span: number, pitch: number) =>
    span < pot.diameterMm ? 0 : 1 + Math.floor((span - pot.diameterMm) / pitch + 1e-9);
  const rows = along(trayDepthMm, pot.pitchYMm);
  const columns = along(trayWidthMm - (rows > 1 ? stagger : 0), pot.pitchXMm);
  const usedX = (columns - 1) * pot.pitchXMm + (rows > 1 ? stagger : 0);
  const usedY = (rows - 1) * pot.pitchYMm;
  return {
    rows,
    columns,
    firstXMm: (trayWidthMm - usedX) / 2,
    firstYMm: (trayDepthMm - usedY) / 2,
  };
}
