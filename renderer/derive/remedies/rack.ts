import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Shelf, Tray } from '../../../shared-types/rack';
import { bind, type BoundCommand } from '../../document';
import {
  editBoard,
  editShelf,
  editTray,
  moveItems,
  partLamps,
  renumberShelves,
  setGrid,
  toggleEmptyHoles,
} from '../../document/commands';
import { freeTrayLetter } from '../../document/new';
import { rectInside, rectsOverlap } from '../../engine/geometry';
import { say } from '../../words';
import { idsIn, type Remedy } from './remedy';

/** Between the tallest plant and a lamp that is hung higher, mm. */
const OVER_PLANTS_MM = 50;

/** What moves or renames the thing at fault by the least, where nothing else is then at fault. */
export function rackRemedyOf({ kind, about }: Notice, plan: Plan): Remedy | null {
  const length = (mm: number) => say('length', plan.display.lengths, mm);
  const remedy = (label: string, command: BoundCommand | null): Remedy | null =>
    command && { label, command };
  const on = placeOf(plan, about);
  switch (kind) {
    case 'duplicate-code':
      if (idsIn(about, 'shelf').length > 0) {
        return remedy('Number the shelves anew', bind(renumberShelves, {}));
      }
      return on && remedy(`Name it ${freeTrayLetter(on.shelf.trays)}`, renamed(on));
    case 'outside-shelf':
      return on && remedy('Move it onto the shelf', ontoShelf(on));
    case 'trays-overlap':
      return on && remedy(`Move tray ${on.shelf.number}${on.tray.letter} aside`, aside(on));
    case 'shelves-overlap':
      return lowerClearance(plan, about, length);
    case 'board-meets-tray':
      return raisedBoard(plan, about, length);
    case 'pot-under-board':
    case 'pot-outside-tray':
      return remedy(
        'Leave these holes empty',
        bind(toggleEmptyHoles, { potIds: idsIn(about, 'pot') }),
      );
    case 'pots-overlap':
      return on && widerPitch(on.tray, length);
    case 'lamp-crosses-board': {
      const [boardId] = idsIn(about, 'board');
      const shelf = plan.rack.shelves.find((s) => s.boards?.some(({ id }) => id === boardId));
      return shelf ? remedy('Hang shorter lamps', bind(partLamps, { shelfId: shelf.id })) : null;
    }
    case 'canopy-reaches-lamp':
      return higherLamp(plan, about, length);
    default:
      return null;
  }
}

interface Place {
  shelf: Shelf;
  tray: Tray;
}

/** The last tray that a notice names: of two, the later one gives way. */
function placeOf({ rack }: Plan, about: readonly string[]): Place | null {
  const trayId = idsIn(about, 'tray').at(-1);
  for (const shelf of rack.shelves) {
    const tray = shelf.trays.find(({ id }) => id === trayId);
    if (tray) return { shelf, tray };
  }
  return null;
}

const renamed = ({ shelf, tray }: Place) =>
  bind(editTray, { trayId: tray.id, patch: { letter: freeTrayLetter(shelf.trays) } });

const floorOf = ({ widthMm, depthMm }: Shelf) => ({ xMm: 0, yMm: 0, widthMm, depthMm });

function moved({ tray }: Place, to: { xMm: number; yMm: number }): BoundCommand {
  const items = [`tray:${tray.id}`];
  return bind(moveItems, { items, dxMm: to.xMm - tray.xMm, dyMm: to.yMm - tray.yMm });
}

/** Whether a tray may stand there: on its shelf, and over no other. */
function isFree({ shelf, tray }: Place, to: { xMm: number; yMm: number }): boolean {
  const there = { ...to, widthMm: tray.widthMm, depthMm: tray.depthMm };
  const others = shelf.trays.filter(({ id }) => id !== tray.id);
  return rectInside(there, floorOf(shelf)) && !others.some((other) => rectsOverlap(there, other));
}

function ontoShelf(place: Place): BoundCommand | null {
  const { shelf, tray } = place;
  const within = (at: number, size: number, room: number) => Math.max(0, Math.min(at, room - size));
  const to = {
    xMm: within(tray.xMm, tray.widthMm, shelf.widthMm),
    yMm: within(tray.yMm, tray.depthMm, shelf.depthMm),
  };
  return isFree(place, to) ? moved(place, to) : null;
}

/** Beside, behind or before the others, the nearest place that is free. */
function aside(place: Place): BoundCommand | null {
  const { shelf, tray } = place;
  const others = shelf.trays.filter(({ id }) => id !== tray.id);
  const places = others.flatMap((other) => [
    { xMm: other.xMm + other.widthMm, yMm: tray.yMm },
    { xMm: other.xMm - tray.widthMm, yMm: tray.yMm },
    { xMm: tray.xMm, yMm: other.yMm + other.depthMm },
    { xMm: tray.xMm, yMm: other.yMm - tray.depthMm },
  ]);
  const far = (to: { xMm: number; yMm: number }) =>
    Math.hypot(to.xMm - tray.xMm, to.yMm - tray.yMm);
  const [nearest] = places.filter((to) => isFree(place, to)).sort((a, b) => far(a) - far(b));
  return nearest ? moved(place, nearest) : null;
}

type SayLength = (mm: number) => string;

/** Of two shelves one over the other, the lower one's clearance ends where the upper one begins. */
function lowerClearance(plan: Plan, about: readonly string[], length: SayLength): Remedy | null {
  const ids = idsIn(about, 'shelf');
  const [low, high] = plan.rack.shelves
    .filter(({ id }) => ids.includes(id))
    .sort((a, b) => a.heightMm - b.heightMm);
  const clearanceMm = low && high ? high.heightMm - low.heightMm : 0;
  if (!low || clearanceMm <= 0 || clearanceMm >= low.clearanceMm) return null;
  return {
    label: `Clearance ${length(clearanceMm)}`,
    command: bind(editShelf, { shelfId: low.id, patch: { clearanceMm } }),
  };
}

function raisedBoard(plan: Plan, about: readonly string[], length: SayLength): Remedy | null {
  const [boardId] = idsIn(about, 'board');
  const trayIds = idsIn(about, 'tray');
  const trays = plan.rack.shelves.flatMap((s) => s.trays.filter(({ id }) => trayIds.includes(id)));
  const downToMm = Math.max(...trays.map(({ rimHeightMm }) => rimHeightMm));
  if (boardId === undefined || !Number.isFinite(downToMm)) return null;
  return {
    label: `Raise the board’s edge to ${length(downToMm)}`,
    command: bind(editBoard, { boardId, patch: { downToMm } }),
  };
}

/** As far apart as the pots are wide, where they then still stand in their tray. */
function widerPitch(tray: Tray, length: SayLength): Remedy | null {
  const { grid } = tray;
  if (!grid || grid.pattern !== 'square') return null;
  const { potDiameterMm, rows, columns, firstXMm, firstYMm } = grid;
  const pitchXMm = Math.max(grid.pitchXMm, potDiameterMm);
  const pitchYMm = Math.max(grid.pitchYMm, potDiameterMm);
  const fits =
    firstXMm + (columns - 1) * pitchXMm + potDiameterMm / 2 <= tray.widthMm &&
    firstYMm + (rows - 1) * pitchYMm + potDiameterMm / 2 <= tray.depthMm;
  if (!fits) return null;
  return {
    label: `Pots ${length(potDiameterMm)} apart`,
    command: bind(setGrid, { trayId: tray.id, grid: { ...grid, pitchXMm, pitchYMm } }),
  };
}

/** Above all that grows or stands on its shelf, where there is room. */
function higherLamp(plan: Plan, about: readonly string[], length: SayLength): Remedy | null {
  const [lampId] = idsIn(about, 'lamp');
  const shelf = plan.rack.shelves.find((s) => s.lamps.some(({ id }) => id === lampId));
  const lamp = shelf?.lamps.find(({ id }) => id === lampId);
  if (!shelf || !lamp) return null;
  const tallest = Math.max(
    shelf.canopy.harvestMm,
    ...shelf.trays.map(({ canopy, grid }) =>
      Math.max(canopy?.harvestMm ?? 0, grid?.potHeightMm ?? 0),
    ),
  );
  const zMm = Math.min(shelf.clearanceMm, tallest + OVER_PLANTS_MM);
  if (zMm <= tallest) return null;
  return {
    label: `Hang it at ${length(zMm)}`,
    command: bind(moveItems, {
      items: [`lamp:${lamp.id}`],
      dxMm: 0,
      dyMm: 0,
      dzMm: zMm - lamp.zMm,
    }),
  };
}
