import type { BoundCommand } from '../../document/compose';
import { addBoardAt, addLampAt, addShelfSized, addTrayAt, setGridIn } from '../addCommands';
import { NOTHING_SHOWN } from '../layers/show';
import { type Box, type Point, shifted } from '../plane/box';
import { hitAt } from '../plane/hit';
import { refTo } from '../../document/queries/refs';
import { shelfAt } from '../plane/scene';
import { type ShelfThing, type TrayThing, fromAbove } from '../plane/things';
import { sizeMeasures } from '../plane/guides';
import { snapEdge } from '../plane/snap';
import { draggedBox } from './addArithmetic';
import type { Gesture, GestureContext, Pointer } from './gesture';

/** Tools that add something by a click (its usual size) or a drag (the size drawn). */
export type AddTool = 'shelf' | 'tray' | 'pots' | 'lamp' | 'board';

const PLANE: Point = { across: 0, up: 0 };

/** What drawing has to know. */
export type DrawContext = Pick<GestureContext, 'scene' | 'plan' | 'lengths'>;

export interface Ground {
  /** Area that a drawn frame is cut to. */
  within: Box | null;
  /** Edges that the frame's corners catch on. */
  edges: readonly Box[];
  /** Where the shelf's own axes begin on the plane. */
  origin: Point;
  /** What is done for a frame, or for a click at a point, both in the shelf's own axes. */
  command(drawn: Box | null, at: Point): BoundCommand;
  /** What is selected afterwards where nothing new has an id, such as a tray that got pots. */
  selects?: string;
}

/** The ground under a point; null where the tool has none there. */
function groundFor(context: DrawContext, tool: AddTool, at: Point): Ground | null {
  const { scene } = context;
  if (tool === 'pots') return groundOn(context, tool, hitAt(scene, at, 0).tray);
  const shelf = shelfAt(scene, at);
  const thing = shelf && scene.byRef.get(refTo('shelf', shelf.id));
  return groundOn(context, tool, thing?.kind === 'shelf' ? thing : null);
}

/** What a tool draws on a shelf or tray, a shelf on nothing. */
export function groundOn(
  context: DrawContext,
  tool: AddTool,
  on: ShelfThing | TrayThing | null,
): Ground | null {
  const { scene, plan } = context;
  const front = scene.view === 'front';
  if (tool === 'shelf') {
    return {
      within: null,
      origin: PLANE,
      edges: scene.things.filter((t) => t.kind === 'shelf').map((t) => (front ? t.bay : t.box)),
      command: (drawn) => addShelfSized(scene.view, drawn),
    };
  }
  if (tool === 'pots') {
    return on?.kind === 'tray' ? { ...potGround(context, on), selects: on.ref } : null;
  }
  if (on?.kind !== 'shelf') return null;
  const { shelf } = on;
  const within = front ? on.bay : on.box;
  const edges = [
    within,
    ...scene.things.filter((t) => t.kind === tool && t.shelf.id === shelf.id).map((t) => t.box),
  ];
  const { view } = scene;
  const { lengths } = context;
  const command: Ground['command'] = (drawn, click) => {
    switch (tool) {
      case 'tray':
        return addTrayAt(view, shelf, drawn, click, lengths);
      case 'lamp':
        return addLampAt(view, plan, shelf, drawn, click, lengths);
      case 'board':
        return addBoardAt(view, shelf, drawn, click, lengths);
      default:
        return tool satisfies never;
    }
  };
  return { within, edges, origin: on.origin, command };
}

function potGround(context: DrawContext, thing: TrayThing): Ground {
  return {
    within: thing.box,
    edges: [thing.box],
    origin: thing.origin,
    command: (drawn) =>
      setGridIn(context.plan, thing.tray, fromAbove(context.scene.view) ? drawn : null),
  };
}

/** After something was drawn: it is selected, seen, and the tool put away. */
export function settle(
  context: Pick<GestureContext, 'select' | 'toolDone' | 'showShelf' | 'scene'>,
  { selects }: Ground,
  tool: AddTool,
  added: readonly string[],
): void {
  context.select(selects ? [selects] : added);
  context.toolDone();
  const shelf = tool === 'shelf' ? added[0] : undefined;
  if (shelf && context.scene.view === 'above') context.showShelf(shelf.slice('shelf:'.length));
}

/** Draws a new thing. Null where the tool has no ground here: a tray needs a shelf, pots a tray. */
export function startAdd(context: GestureContext, start: Pointer, tool: AddTool): Gesture | null {
  const ground = groundFor(context, tool, start.plane);
  if (!ground) return null;
  const caught = ({ plane, keys }: Pointer): Point =>
    keys.ctrl
      ? plane
      : {
          across: snapEdge(plane.across, 'across', ground.edges, context.toleranceMm),
          up: snapEdge(plane.up, 'up', ground.edges, context.toleranceMm),
        };
  const from = caught(start);
  // Whole steps are counted from the shelf's own corner.
  const { across, up } = ground.origin;
  const within = ground.within && shifted(ground.within, -across, -up);
  const onGround = (at: Point): Point => ({ across: at.across - across, up: at.up - up });
  const drawnTo = (pointer: Pointer) =>
    draggedBox(onGround(from), onGround(caught(pointer)), within, context.lengths);
  return {
    move(pointer) {
      const drawn = drawnTo(pointer);
      const frame = drawn && shifted(drawn, across, up);
      context.show({ frame, guides: frame ? sizeMeasures(frame, ['across', 'up']) : [] });
    },
    complete(pointer) {
      context.show(NOTHING_SHOWN);
      const added = context.act(ground.command(drawnTo(pointer), onGround(start.plane)));
      if (added) settle(context, ground, tool, added);
    },
    cancel: () => context.show(NOTHING_SHOWN),
  };
}
