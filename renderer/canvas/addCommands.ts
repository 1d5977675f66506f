import type { Plan } from '../../shared-types/plan';
import type { Lamp, Shelf, Tray } from '../../shared-types/rack';
import { bind, type BoundCommand } from '../document/compose';
import { addBoard, addLamp, addLampKind, addShelf, addTray, setGrid } from '../document/commands';
import { newBoard } from '../document/new';
import { boxAbout, gridInBox, lastPots } from './gestures/addArithmetic';
import { type Box, type Point, heightOf, shifted, widthOf } from './plane/box';
import { type ViewName, fromAbove } from './plane/things';
import { wholeStep } from './plane/snap';
import type { UnitSystem } from '../words';

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

/** The kind that the next lamp over a shelf is of; undefined where the plan has none yet. */
export function lampKindFor({ rack }: Plan, shelf: Shelf): string | undefined {
  const last = shelf.lamps.at(-1) ?? rack.shelves.flatMap((s) => s.lamps).at(-1);
  return last?.kindId ?? rack.lampKinds[0]?.id;
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
  const known = lampKindFor(plan, shelf);
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
