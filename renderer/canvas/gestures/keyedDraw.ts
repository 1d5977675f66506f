import { boardRect } from '../../engine/geometry';
import { newBoard, newLamp, newLampKind, newShelf, newTray } from '../../document/new';
import { kindOfLamp } from '../../engine/lamps';
import { parseRef, refTo } from '../../document/queries/refs';
import { shelfOf } from '../../document/queries/selection';
import { lampKindFor } from '../addCommands';
import type { Box, Point } from '../plane/box';
import { centreOf, heightOf, shifted, widthOf } from '../plane/box';
import { focusOrder, type Direction } from '../plane/focusOrder';
import type { Scene } from '../plane/scene';
import { fromAbove, lampThing } from '../plane/things';
import type { BoundCommand } from '../../document/compose';
import { groundOn, type AddTool, type DrawContext, type Ground } from './add';

/** A new thing while the keyboard places and sizes it: its frame in its shelf's own axes. */
export interface KeyedDraw {
  tool: AddTool;
  view: Scene['view'];
  /** The shelf or tray that it is drawn on; null for a shelf. */
  on: string | null;
  box: Box;
}

const LEAST_MM = 20;

/** The grounds that a tool may draw on, in the order of Tab. */
function groundsFor({ scene }: DrawContext, tool: AddTool): string[] {
  const kind = tool === 'pots' ? 'tray' : 'shelf';
  return focusOrder(scene, false).filter((ref) => scene.byRef.get(ref)?.kind === kind);
}

/** Begins at the usual place and size; a sentence where the tool has no ground. */
export function startKeyed(
  context: DrawContext,
  tool: AddTool,
  selection: readonly string[],
): KeyedDraw | string {
  const { scene, plan } = context;
  if (tool === 'shelf') return drawOn(context, tool, null);
  const grounds = groundsFor(context, tool);
  const [first] = selection;
  const shelf = first === undefined ? undefined : shelfOf(plan, first);
  const tray = first?.startsWith('pot:') ? refTo('tray', trayIdOf(first)) : first;
  const wanted = tool === 'pots' ? tray : shelf && refTo('shelf', shelf.id);
  const on = grounds.find((ref) => ref === wanted) ?? grounds[0];
  if (on === undefined) {
    return tool === 'pots'
      ? 'Pots stand in a tray: draw a tray first (T).'
      : scene.things.length === 0
        ? 'Everything else stands on a shelf: draw a shelf first (S).'
        : 'No shelf is shown here.';
  }
  return drawOn(context, tool, on);
}

const trayIdOf = (potRef: string) => parseRef(potRef)?.id.split(':')[0] ?? '';

function drawOn(context: DrawContext, tool: AddTool, on: string | null): KeyedDraw {
  const { scene } = context;
  return { tool, view: scene.view, on, box: usualBox(context, tool, on) };
}

function usualBox({ scene, plan }: DrawContext, tool: AddTool, on: string | null): Box {
  const above = fromAbove(scene.view);
  const thing = on === null ? undefined : scene.byRef.get(on);
  if (tool === 'shelf' || !thing) {
    const { widthMm, depthMm, heightMm, clearanceMm } = newShelf('s0', plan.rack.shelves);
    return above
      ? { left: 0, right: widthMm, bottom: 0, top: depthMm }
      : { left: 0, right: widthMm, bottom: heightMm, top: heightMm + clearanceMm };
  }
  const { shelf, origin } = thing;
  switch (tool) {
    case 'pots':
      return shifted(thing.box, -origin.across, -origin.up);
    case 'tray': {
      const tray = newTray('t0', shelf);
      const across = { left: tray.xMm, right: tray.xMm + tray.widthMm };
      return above
        ? { ...across, bottom: tray.yMm, top: tray.yMm + tray.depthMm }
        : { ...across, bottom: shelf.heightMm, top: shelf.heightMm + tray.rimHeightMm };
    }
    case 'board': {
      const board = { id: 'w0', ...newBoard(shelf, 'across') };
      const { xMm, yMm, widthMm, depthMm } = boardRect(shelf, board);
      const across = { left: xMm, right: xMm + widthMm };
      const bottom = shelf.heightMm + board.downToMm;
      return above
        ? { ...across, bottom: yMm, top: yMm + depthMm }
        : { ...across, bottom, top: shelf.heightMm + shelf.clearanceMm };
    }
    case 'lamp': {
      const kindId = lampKindFor(plan, shelf);
      const lamp = newLamp('l0', kindId ?? 'k0', shelf);
      const kind = kindId === undefined ? newLampKind('k0') : kindOfLamp(plan.rack, lamp);
      const here = { above, shelf, origin: { across: 0, up: 0 } };
      return lampThing(here, lamp, kind, 1).box;
    }
  }
}

/** What the arrows may do to a thing that is drawn: along which axes it goes and grows. */
function freedom({ tool, view, box }: KeyedDraw) {
  const above = fromAbove(view);
  const none = { across: false, up: false };
  switch (tool) {
    case 'shelf':
      return { goes: { across: false, up: !above }, grows: { across: true, up: true } };
    case 'tray':
      return { goes: { across: true, up: above }, grows: { across: true, up: above } };
    case 'pots':
      return above ? { goes: BOTH, grows: BOTH } : { goes: none, grows: none };
    case 'lamp':
      return { goes: BOTH, grows: none };
    case 'board': {
      const lengthwise = widthOf(box) > heightOf(box) && above;
      return { goes: { across: !lengthwise, up: lengthwise }, grows: none };
    }
  }
}
const BOTH = { across: true, up: true };

const BY: Record<Direction, Point> = {
  left: { across: -1, up: 0 },
  right: { across: 1, up: 0 },
  up: { across: 0, up: 1 },
  down: { across: 0, up: -1 },
};

/** One press of an arrow: the frame goes, or with `size` its right and upper sides do. */
export function stepKeyed(
  context: DrawContext,
  draw: KeyedDraw,
  direction: Direction,
  stepMm: number,
  size: boolean,
): KeyedDraw {
  const { goes, grows } = freedom(draw);
  const by = BY[direction];
  const free = size ? grows : goes;
  const across = free.across ? by.across * stepMm : 0;
  const up = free.up ? by.up * stepMm : 0;
  const within = withinOf(context, draw);
  const { box } = draw;
  const held = (value: number, low: number, high: number) =>
    Math.min(Math.max(value, low), Math.max(low, high));
  if (size) {
    const right = held(box.right + across, box.left + LEAST_MM, within?.right ?? Infinity);
    const top = held(box.top + up, box.bottom + LEAST_MM, within?.top ?? Infinity);
    return {
      ...draw,
      box: { ...box, right: free.across ? right : box.right, top: free.up ? top : box.top },
    };
  }
  const left = within
    ? held(
        box.left + across,
        Math.min(within.left, box.left),
        Math.max(within.right - widthOf(box), box.left),
      )
    : box.left + across;
  const bottom = within
    ? held(
        box.bottom + up,
        Math.min(within.bottom, box.bottom),
        Math.max(within.top - heightOf(box), box.bottom),
      )
    : box.bottom + (draw.tool === 'shelf' ? Math.max(up, -box.bottom) : up);
  return { ...draw, box: shifted(box, left - box.left, bottom - box.bottom) };
}

/** A lamp or board turned by a quarter about its middle. */
export function turnKeyed(context: DrawContext, draw: KeyedDraw): KeyedDraw {
  const { tool, view, box } = draw;
  if (!fromAbove(view) || (tool !== 'lamp' && tool !== 'board')) return draw;
  const { across, up } = centreOf(box);
  const within = tool === 'board' ? withinOf(context, draw) : null;
  const lengthwise = widthOf(box) < heightOf(box);
  const thick = Math.min(widthOf(box), heightOf(box)) / 2;
  // A board goes from side to side whichever way it stands.
  if (within) {
    const middle = centreOf(within);
    return {
      ...draw,
      box: lengthwise
        ? { ...within, bottom: middle.up - thick, top: middle.up + thick }
        : { ...within, left: middle.across - thick, right: middle.across + thick },
    };
  }
  const [w, h] = [heightOf(box) / 2, widthOf(box) / 2];
  return { ...draw, box: { left: across - w, right: across + w, bottom: up - h, top: up + h } };
}

/** The same tool on the next ground, or the one before. */
export function nextGround(context: DrawContext, draw: KeyedDraw, by: 1 | -1): KeyedDraw {
  const grounds = groundsFor(context, draw.tool);
  const next = draw.on === null ? undefined : grounds[grounds.indexOf(draw.on) + by];
  return next === undefined ? draw : drawOn(context, draw.tool, next);
}

function withinOf(context: DrawContext, draw: KeyedDraw): Box | null {
  // A lamp may stand out over its shelf.
  if (draw.tool === 'shelf' || draw.tool === 'lamp') return null;
  const ground = keyedGround(context, draw);
  return ground?.within ? shifted(ground.within, -ground.origin.across, -ground.origin.up) : null;
}

export function keyedGround(context: DrawContext, draw: KeyedDraw): Ground | null {
  return groundOn(context, draw.tool, groundOf(context, draw));
}

/** What setting it down does. */
export function keyedCommand({ command }: Ground, { tool, view, box }: KeyedDraw): BoundCommand {
  const middle = centreOf(box);
  // A lamp hangs at the height of its lit face.
  return tool === 'lamp' && !fromAbove(view)
    ? command(null, { across: middle.across, up: box.bottom })
    : command(box, middle);
}

function groundOf({ scene }: DrawContext, { on }: KeyedDraw) {
  const thing = on === null ? undefined : scene.byRef.get(on);
  return thing?.kind === 'shelf' || thing?.kind === 'tray' ? thing : null;
}

/** The frame on the drawing plane. */
export function frameOf(context: DrawContext, draw: KeyedDraw): Box {
  const origin = groundOf(context, draw)?.origin ?? { across: 0, up: 0 };
  return shifted(draw.box, origin.across, origin.up);
}
