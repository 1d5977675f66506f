import type { RackLook } from '../look';
import { cursorFor } from './cursor';
import { startAdd } from '../gestures/add';
import type { Gesture, GestureContext, Pointer } from '../gestures/gesture';
import { startPan } from '../gestures/pan';
import { startPick } from '../gestures/pick';
import { nextUnder, sayStack, stillTaken, type Taken } from '../gestures/cycle';
import { graspedIn, startPress } from '../gestures/press';
import { startResize } from '../gestures/resize';
import type { Handle } from '../gestures/resizeArithmetic';
import { handleAt, handleBox, handlesOf } from '../gestures/resizeArithmetic';
import type { GestureShow } from '../layers/show';
import { centreOf, type Point } from '../plane/box';
import { pointAt } from '../plane/pointAt';
import { describePlace, stripLine, type Told } from '../plane/describe';
import { hitAt, stackAt } from '../plane/hit';
import type { Scene } from '../plane/scene';
import type { Thing } from '../plane/things';
import { nameIn, onShelf, outlineOf, shelfAt } from '../plane/scene';
import { fromAbove } from '../plane/things';
import { toPixel, type Pixel } from '../plane/viewport';
import type { CanvasPort } from '../canvasPort';
import type { ViewportControl } from '../useViewport';

const SNAP_PX = 8;
const LAMP_SLACK_PX = 4;

/** What a press or a look at the rack is about. */
export interface Pointed {
  room: CanvasPort;
  scene: Scene;
  look: RackLook;
  told: Told;
  view: ViewportControl;
  /** What was taken out of a stack last, by a click or a key. */
  taken: Taken | null;
  take: (taken: Taken) => void;
  setShow: (show: GestureShow) => void;
  onPlace?: ((shelfId: string, xMm: number, yMm: number) => void) | undefined;
}

function contextOf({ room, scene, look, view, taken, take, setShow }: Pointed): GestureContext {
  return {
    scene,
    plan: room.plan,
    selection: room.selection,
    taken,
    take,
    lampsOnly: look.editable === 'lamps',
    lengths: room.plan.display.lengths,
    toleranceMm: SNAP_PX / view.now().scale,
    view: view.now,
    setView: view.set,
    select: room.select,
    show: setShow,
    preview: room.preview,
    dropPreview: room.dropPreview,
    act: room.act,
    showShelf: room.showShelf,
    toolDone: () => room.takeTool('select'),
  };
}

/** The handle of the one thing selected that lies under a pixel. */
function handleUnder(
  { room, scene, look, view }: Pointed,
  pixel: Pixel,
): { thing: Thing; handle: Handle } | null {
  const [ref, ...more] = room.selection;
  if (look.editable !== true || ref === undefined || more.length > 0) return null;
  const thing = scene.byRef.get(ref);
  if (!thing || room.tool !== 'select') return null;
  const handles = handlesOf(thing.kind, scene.view);
  const handle = handleAt(handles, handleBox(thing, scene.view), view.now(), pixel);
  return handle ? { thing, handle } : null;
}

function rulesAt({ look, scene, view }: Pointed, pixel: Pixel) {
  return {
    editable: look.editable,
    slackMm: LAMP_SLACK_PX / view.now().scale,
    point: pointAt(scene, look.points ?? [], view.now(), pixel),
  };
}

/** The gesture that a press starts; null where it starts none. */
export function gestureFor(
  pointed: Pointed,
  start: Pointer,
  button: number,
  panning: boolean,
): Gesture | null {
  const context = contextOf(pointed);
  const { room, scene, look, onPlace } = pointed;
  if (button === 1 || panning || room.tool === 'pan') return startPan(context, start);
  if (button !== 0) return null;
  const canEdit = look.editable === true;
  switch (room.tool) {
    case 'shelf':
    case 'tray':
    case 'pots':
    case 'board':
      return canEdit ? startAdd(context, start, room.tool) : null;
    case 'lamp':
      return look.editable !== false ? startAdd(context, start, 'lamp') : null;
    case 'guard':
    case 'hole':
      return canEdit && fromAbove(scene.view) ? startPick(context, start, room.tool) : null;
    case 'reading': {
      const shelf = shelfAt(scene, start.plane);
      if (shelf && fromAbove(scene.view)) {
        const { across, up } = onShelf(scene, shelf.id, start.plane);
        onPlace?.(shelf.id, across, up);
      }
      return null;
    }
    default: {
      const grip = handleUnder(pointed, start.pixel);
      if (grip) return startResize(context, start, grip.thing, grip.handle);
      return startPress(context, start, rulesAt(pointed, start.pixel));
    }
  }
}

/** What the pointer is over: the words of the strip below, what is ringed, and the cursor. */
export function lookAt(pointed: Pointed, pointer: Pointer) {
  const { room, scene, told } = pointed;
  const grip = handleUnder(pointed, pointer.pixel);
  const rules = rulesAt(pointed, pointer.pixel);
  const hit = hitAt(scene, pointer.plane, rules.slackMm);
  const stack = stackAt(scene, pointer.plane, rules);
  const target = graspedIn(stack, { taken: pointed.taken, selection: room.selection }) ?? null;
  const over = [
    rules.point,
    hit.pot?.ref,
    hit.lamp?.ref,
    hit.board?.ref,
    hit.tray?.ref,
    hit.shelf?.ref,
  ];
  const refs = over.filter((ref) => typeof ref === 'string');
  const line = stripLine(told, refs, describePlace(scene, pointer.plane, told.lengths));
  const stacked = room.tool === 'select' ? sayStack(stack, room.selection, nameIn(scene)) : '';
  return {
    line: [line, stacked].filter(Boolean).join(' · '),
    ringed: room.tool === 'select' ? target : null,
    cursor: cursorFor(pointed, grip?.handle ?? null, target, pointer.plane),
  };
}

/**
 * Goes on to what lies under the selection: where it was taken, else under the pointer, else in its
 * middle. False where nothing else lies there.
 */
export function goUnder(pointed: Pointed, over: Point | null): boolean {
  const { room, scene, view, taken } = pointed;
  const [only, ...more] = room.selection;
  if (more.length > 0) return false;
  const from = stillTaken(taken, room.selection) ? taken.place : null;
  for (const place of [from, over, only === undefined ? null : middleIn(scene, only)]) {
    if (place === null) continue;
    const stack = stackAt(scene, place, rulesAt(pointed, toPixel(view.now(), place)));
    const next = nextUnder(stack, only);
    if (next === undefined || next === only) continue;
    if (only !== undefined && !stack.includes(only)) continue;
    room.select([next]);
    pointed.take({ ref: next, place });
    return true;
  }
  return false;
}

/** Middle of a thing; of a shelf from the front, of its bay. */
function middleIn(scene: Scene, ref: string): Point | null {
  const thing = scene.byRef.get(ref);
  const box = thing?.kind === 'shelf' && scene.view === 'front' ? thing.bay : outlineOf(scene, ref);
  return box && centreOf(box);
}

/** What lies with the one thing selected where it was taken out of a stack. */
export function sayTaken(pointed: Pointed): string {
  const { room, scene, view, taken } = pointed;
  if (!stillTaken(taken, room.selection)) return '';
  const stack = stackAt(scene, taken.place, rulesAt(pointed, toPixel(view.now(), taken.place)));
  return sayStack(stack, room.selection, nameIn(scene));
}
