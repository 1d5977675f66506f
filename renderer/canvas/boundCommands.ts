import type { Plan } from '../../shared-types/plan';
import type { Lamp, Shelf, Tray } from '../../shared-types/rack';
import { bind, together, type BoundCommand } from '../document/compose';
import {
  addBoard,
  addLamp,
  addLampKind,
  addShelf,
  addTray,
  duplicateItems,
  duplicateShelf,
  editLamps,
  editShelf,
  editTray,
  moveItems,
  removeItems,
  removeShelves,
  resizeTray,
  setGrid,
  toggleEmptyHoles,
  toggleGuards,
} from '../document/commands';
import { tenth } from '../document/edit';
import { newBoard } from '../document/new';
import { idsOf } from '../document/queries/refs';
import { sayThings } from '../document/queries/names';
import { findLamp, findShelf } from '../engine/geometry';
import { boxAbout, gridInBox, lastPots } from './gestures/addArithmetic';
import { type Box, type Point, heightOf, shifted, widthOf } from './plane/box';
import { type Thing, type ViewName, fromAbove } from './plane/scene';
import { wholeStep } from './plane/snap';
import type { UnitSystem } from '../words';

/** Moves things on the drawing plane: over the shelf from above, across and up from the front. */
export function moveThings(
  view: ViewName,
  refs: readonly string[],
  byAcross: number,
  byUp: number,
): BoundCommand {
  const shelfIds = idsOf(refs, 'shelf');
  if (shelfIds.length > 0) return liftShelves(shelfIds, byUp);
  const by = fromAbove(view)
    ? { dxMm: byAcross, dyMm: byUp }
    : { dxMm: byAcross, dyMm: 0, dzMm: byUp };
  return bind(moveItems, { items: refs, ...by });
}

function liftShelves(shelfIds: readonly string[], byMm: number): BoundCommand {
  const refs = shelfIds.map((id) => `shelf:${id}`);
  return {
    name: editShelf.name,
    label: (_, plan) => `Move ${sayThings(plan, refs)}`,
    run: (plan) =>
      shelfIds.reduce((sum, shelfId) => {
        const shelf = findShelf(sum.rack, shelfId);
        if (!shelf) return sum;
        const heightMm = Math.max(0, tenth(shelf.heightMm + byMm));
        return editShelf.run(sum, { shelfId, patch: { heightMm } });
      }, plan),
  };
}

/** Sets down copies a little aside, where they can be seen. */
export function duplicateAside(view: ViewName, refs: readonly string[]): BoundCommand {
  return duplicateThings(view, refs, ASIDE_MM, fromAbove(view) ? ASIDE_MM : 0);
}

const ASIDE_MM = 25;

/** Sets down copies; from the front, lifted into another bay, they come to that shelf. */
export function duplicateThings(
  view: ViewName,
  refs: readonly string[],
  byAcross: number,
  byUp: number,
): BoundCommand {
  const shelves = idsOf(refs, 'shelf').map((shelfId) => bind(duplicateShelf, { shelfId }));
  const items = refs.filter((ref) => !ref.startsWith('shelf:'));
  const rest =
    items.length > 0
      ? [
          bind(duplicateItems, {
            items,
            dxMm: byAcross,
            ...(fromAbove(view) ? { dyMm: byUp } : { dyMm: 0, dzMm: byUp }),
          }),
        ]
      : [];
  return together((plan) => `Duplicate ${sayThings(plan, refs)}`, [...shelves, ...rest]);
}

/** Takes away whatever is selected: shelves with all on them, trays, lamps, boards; pots leave holes. */
export function removeThings(plan: Plan, refs: readonly string[]): BoundCommand | null {
  const shelfIds = idsOf(refs, 'shelf');
  const gone = new Set(shelfIds);
  const items = refs.filter((ref) => {
    const at = plan.rack.shelves.find(
      (s) =>
        s.trays.some((t) => ref === `tray:${t.id}`) ||
        s.lamps.some((l) => ref === `lamp:${l.id}`) ||
        s.boards?.some((b) => ref === `board:${b.id}`),
    );
    return at !== undefined && !gone.has(at.id);
  });
  const pots = idsOf(refs, 'pot');
  const commands = [
    ...(items.length > 0 ? [bind(removeItems, { items })] : []),
    ...(shelfIds.length > 0 ? [bind(removeShelves, { shelfIds })] : []),
    // A pot that goes with its tray needs no hole.
    ...(items.length + shelfIds.length === 0 && pots.length > 0
      ? [bind(toggleEmptyHoles, { potIds: pots })]
      : []),
  ];
  return commands.length > 0 ? together((p) => `Remove ${sayThings(p, refs)}`, commands) : null;
}

/** Gives a tray or shelf the outline that its handles were dragged to. */
export function resizeThing(view: ViewName, thing: Thing, box: Box): BoundCommand {
  if (thing.kind === 'tray') {
    const { tray } = thing;
    const { origin } = thing;
    const across = { xMm: box.left - origin.across, widthMm: widthOf(box) };
    const outline = fromAbove(view)
      ? { ...across, yMm: box.bottom - origin.up, depthMm: heightOf(box) }
      : { ...across, yMm: tray.yMm, depthMm: tray.depthMm };
    const trayId = tray.id;
    const resize = bind(resizeTray, { trayId, ...outline, refitGrid: false });
    if (fromAbove(view)) return resize;
    const rim = bind(editTray, { trayId, patch: { rimHeightMm: tenth(heightOf(box)) } });
    return together((plan) => resize.label(null, plan), [resize, rim]);
  }
  const shelfId = thing.shelf.id;
  const patch = fromAbove(view)
    ? { widthMm: tenth(widthOf(box)), depthMm: tenth(heightOf(box)) }
    : { widthMm: tenth(widthOf(box)), clearanceMm: tenth(heightOf(box)) };
  return bind(editShelf, { shelfId, patch });
}

/** A shelf of the drawn size, or the usual next one. From the front a drawn frame is its bay. */
export function addShelfSized(view: ViewName, drawn: Box | null): BoundCommand {
  if (!drawn) return bind(addShelf, {});
  const shelf = fromAbove(view)
    ? { widthMm: widthOf(drawn), depthMm: heightOf(drawn) }
    : {
        widthMm: widthOf(drawn),
        heightMm: Math.max(0, drawn.bottom),
        clearanceMm: heightOf(drawn),
      };
  return bind(addShelf, { shelf });
}

/**
 * A tray of the drawn size, or one like the last about the click. From the front: the width drawn.
 * Frame and click are in the shelf's own axes (from above).
 */
export function addTrayAt(
  view: ViewName,
  shelf: Shelf,
  drawn: Box | null,
  click: Point,
  lengths: UnitSystem,
): BoundCommand {
  const shelfId = shelf.id;
  const last = shelf.trays.at(-1);
  if (drawn && fromAbove(view)) {
    const tray = {
      xMm: drawn.left,
      yMm: drawn.bottom,
      widthMm: widthOf(drawn),
      depthMm: heightOf(drawn),
      grid: null,
    };
    return bind(addTray, { shelfId, tray });
  }
  if (drawn) {
    return bind(addTray, {
      shelfId,
      tray: { xMm: drawn.left, widthMm: Math.max(20, widthOf(drawn)), grid: null },
    });
  }
  // The first tray fills its shelf; later ones are like the last and stand where the click was.
  if (!last) return bind(addTray, { shelfId });
  if (view === 'front') return bind(addTray, { shelfId });
  const within = { left: 0, right: shelf.widthMm, bottom: 0, top: shelf.depthMm };
  const box = boxAbout(click, last.widthMm, last.depthMm, within, lengths);
  return bind(addTray, { shelfId, tray: { xMm: box.left, yMm: box.bottom } });
}

/** A point this near to the middle of a shelf means the middle. */
const MIDDLE_MM = 20;

/**
 * A white board through the click, or along the longer side of the drawn frame; from the front it
 * stands across. Frame and click are in the shelf's own axes (from above).
 */
export function addBoardAt(
  view: ViewName,
  shelf: Shelf,
  drawn: Box | null,
  click: Point,
  lengths: UnitSystem,
): BoundCommand {
  const lengthwise = drawn !== null && fromAbove(view) && widthOf(drawn) > heightOf(drawn);
  const at = drawn
    ? { across: (drawn.left + drawn.right) / 2, up: (drawn.bottom + drawn.top) / 2 }
    : click;
  const [place, side] = lengthwise ? [at.up, shelf.depthMm] : [at.across, shelf.widthMm];
  const atMm = Math.abs(place - side / 2) < MIDDLE_MM ? side / 2 : wholeStep(place, lengths);
  const board = { ...newBoard(shelf, lengthwise ? 'lengthwise' : 'across'), atMm };
  return bind(addBoard, { shelfIds: [shelf.id], board });
}

/** As many pots as fit the drawn part of a tray (in its shelf's axes), or the whole of it. */
export function setGridIn(plan: Plan, tray: Tray, drawn: Box | null): BoundCommand {
  const box = drawn
    ? shifted(drawn, -tray.xMm, -tray.yMm)
    : { left: 0, right: tray.widthMm, bottom: 0, top: tray.depthMm };
  return bind(setGrid, { trayId: tray.id, grid: gridInBox(box, lastPots(plan.rack)) });
}

/**
 * A lamp lying along the longer side of the drawn frame, else along the shelf about the click. Frame
 * and click are in the shelf's own axes (from above).
 */
export function addLampAt(
  view: ViewName,
  plan: Plan,
  shelf: Shelf,
  drawn: Box | null,
  click: Point,
  lengths: UnitSystem,
): BoundCommand {
  const at = drawn
    ? { across: (drawn.left + drawn.right) / 2, up: (drawn.bottom + drawn.top) / 2 }
    : click;
  const spot = boxAbout(
    at,
    1,
    1,
    { left: -shelf.widthMm, right: 2 * shelf.widthMm, bottom: -shelf.depthMm, top: 2e4 },
    lengths,
  );
  const place = fromAbove(view)
    ? { xMm: spot.left, yMm: spot.bottom }
    : {
        xMm: spot.left,
        yMm: shelf.depthMm / 2,
        zMm: Math.max(0, Math.min(shelf.clearanceMm, spot.bottom - shelf.heightMm)),
      };
  const deep = drawn !== null && fromAbove(view) && heightOf(drawn) > widthOf(drawn);
  const lamp = { ...place, ...(deep ? { rotationDeg: 90 } : {}) };
  return addLampOver(plan, shelf, lamp);
}

/**
 * A lamp of the kind that hangs over the shelf already, else of the one hung last. The first lamp
 * of a plan brings a common kind with it.
 */
export function addLampOver(
  plan: Plan,
  shelf: Shelf,
  lamp: Partial<Omit<Lamp, 'id' | 'kindId'>> = {},
): BoundCommand {
  const shelfId = shelf.id;
  const last = shelf.lamps.at(-1) ?? plan.rack.shelves.flatMap((s) => s.lamps).at(-1);
  const known = last?.kindId ?? plan.rack.lampKinds[0]?.id;
  if (known !== undefined) return bind(addLamp, { shelfId, kindId: known, lamp });
  return {
    name: addLamp.name,
    label: (_, p) => addLamp.label({ shelfId, kindId: '' }, p),
    run: (p) => {
      const withKind = addLampKind.run(p, {});
      const kindId = withKind.rack.lampKinds.at(-1)?.id ?? '';
      return addLamp.run(withKind, { shelfId, kindId, lamp });
    },
  };
}

export function toggleGuardPots(potIds: readonly string[]): BoundCommand {
  return bind(toggleGuards, { potIds });
}

export function toggleEmpty(potIds: readonly string[]): BoundCommand {
  return bind(toggleEmptyHoles, { potIds });
}

/** Turns lamps about the vertical. */
export function turnLamps(plan: Plan, lampIds: readonly string[], byDeg: number): BoundCommand {
  const edits = lampIds.flatMap((lampId) => {
    const lamp = findLamp(plan.rack, lampId)?.lamp;
    if (!lamp) return [];
    const turned = (((lamp.rotationDeg + byDeg) % 360) + 360) % 360;
    return [{ lampId, patch: { rotationDeg: turned } }];
  });
  return bind(editLamps, { edits });
}
