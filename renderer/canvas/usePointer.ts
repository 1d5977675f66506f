import { useEffect, useRef, useState } from 'react';
import type { MouseEvent, PointerEvent, RefObject } from 'react';
import { cursorFor } from './cursor';
import type { RackLook } from './look';
import { startAdd } from './gestures/add';
import type { Gesture, GestureContext, Pointer } from './gestures/gesture';
import { startPan } from './gestures/pan';
import { startPick } from './gestures/pick';
import { startPress, targetOf } from './gestures/press';
import { startResize } from './gestures/resize';
import type { Handle } from './gestures/resizeArithmetic';
import { handleAt, handleBox, handlesOf } from './gestures/resizeArithmetic';
import type { GestureShow } from './layers/show';
import { NOTHING_SHOWN } from './layers/show';
import { pointAt } from './plane/pointAt';
import { describePlace, stripLine, type Told } from './plane/describe';
import { hitAt } from './plane/hit';
import type { Scene, Thing } from './plane/scene';
import { fromAbove, onShelf, shelfAt } from './plane/scene';
import type { Pixel } from './plane/viewport';
import { panned, pinched, toPlane } from './plane/viewport';
import type { Room } from './room';
import type { ViewportControl } from './useViewport';

const SNAP_PX = 8;
const LAMP_SLACK_PX = 4;

export interface PointerAsk {
  wrapper: RefObject<HTMLDivElement | null>;
  room: Room;
  scene: Scene;
  look: RackLook;
  told: Told;
  view: ViewportControl | null;
  setShow: (show: GestureShow) => void;
  setBusy: (busy: boolean) => void;
  onPlace?: ((shelfId: string, xMm: number, yMm: number) => void) | undefined;
}

/** Turns presses, drags, wheel and fingers into gestures, and says what the pointer is over. */
export function usePointer(ask: PointerAsk) {
  const latest = useRef(ask);
  latest.current = ask;
  const gesture = useRef<Gesture | null>(null);
  const lastPointer = useRef<Pointer | null>(null);
  const fingers = useRef(new Map<number, Pixel>());
  const spaceHeld = useRef(false);
  const [cursor, setCursor] = useState('default');
  const [hovered, setHovered] = useState<string | null>(null);

  const pixelOf = (event: { clientX: number; clientY: number }): Pixel => {
    const box = ask.wrapper.current?.getBoundingClientRect();
    return { x: event.clientX - (box?.left ?? 0), y: event.clientY - (box?.top ?? 0) };
  };
  const pointerOf = (event: MouseEvent | PointerEvent): Pointer | null => {
    const { view } = latest.current;
    if (!view) return null;
    const pixel = pixelOf(event);
    return {
      pixel,
      plane: toPlane(view.now(), pixel),
      keys: {
        shift: event.shiftKey,
        ctrl: event.ctrlKey || event.metaKey,
        alt: event.altKey,
      },
    };
  };

  const contextNow = (): GestureContext | null => {
    const { room, scene, look, view, setShow } = latest.current;
    if (!view) return null;
    return {
      scene,
      plan: room.plan,
      selection: room.selection,
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
  };

  const handleUnder = (pixel: Pixel): { thing: Thing; handle: Handle } | null => {
    const { room, scene, look, view } = latest.current;
    const [ref, ...more] = room.selection;
    if (look.editable !== true || !view || ref === undefined || more.length > 0) return null;
    const thing = scene.byRef.get(ref);
    if (!thing || room.tool !== 'select') return null;
    const handle = handleAt(
      handlesOf(thing.kind, scene.view),
      handleBox(thing, scene.view),
      view.now(),
      pixel,
    );
    return handle ? { thing, handle } : null;
  };

  const rulesNow = (pixel: Pixel) => {
    const { look, scene, view } = latest.current;
    const scale = view?.now().scale ?? 1;
    return {
      editable: look.editable,
      slackMm: LAMP_SLACK_PX / scale,
      point: view ? pointAt(scene, look.points ?? [], view.now(), pixel) : null,
    };
  };

  const startFor = (start: Pointer, button: number): Gesture | null => {
    const context = contextNow();
    if (!context) return null;
    const { room, scene, look, onPlace } = latest.current;
    if (button === 1 || spaceHeld.current || room.tool === 'pan') return startPan(context, start);
    if (button !== 0) return null;
    const canEdit = look.editable === true;
    switch (room.tool) {
      case 'shelf':
      case 'tray':
      case 'pots':
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
        const grip = handleUnder(start.pixel);
        if (grip) return startResize(context, start, grip.thing, grip.handle);
        return startPress(context, start, rulesNow(start.pixel));
      }
    }
  };

  const end = (how: 'complete' | 'cancel', pointer: Pointer | null) => {
    const going = gesture.current;
    gesture.current = null;
    if (going) {
      if (how === 'complete' && pointer) going.complete(pointer);
      else going.cancel();
      latest.current.setShow(NOTHING_SHOWN);
    }
    latest.current.setBusy(false);
  };

  const look = (pointer: Pointer) => {
    const { room, scene, view, told } = latest.current;
    if (!view) return;
    const grip = handleUnder(pointer.pixel);
    const rules = rulesNow(pointer.pixel);
    const hit = hitAt(scene, pointer.plane, rules.slackMm);
    const target = targetOf(hit, rules);
    const over = [rules.point, hit.pot?.ref, hit.lamp?.ref, hit.tray?.ref, hit.shelf?.ref];
    const refs = over.filter((ref) => typeof ref === 'string');
    room.setHover(stripLine(told, refs, describePlace(scene, pointer.plane, told.lengths)));
    setHovered(room.tool === 'select' ? target : null);
    setCursor(
      spaceHeld.current
        ? 'grab'
        : cursorFor(latest.current, grip?.handle ?? null, target, pointer.plane),
    );
  };

  useEffect(() => {
    const element = ask.wrapper.current;
    if (!element) return undefined;
    const onWheel = (event: WheelEvent) => {
      const { view } = latest.current;
      if (!view) return;
      event.preventDefault();
      // A wheel counts in lines in some surroundings.
      const unit = event.deltaMode === 1 ? 18 : 1;
      const dx = event.deltaX * unit;
      const dy = event.deltaY * unit;
      if (event.ctrlKey || event.metaKey) {
        const box = element.getBoundingClientRect();
        const at = { x: event.clientX - box.left, y: event.clientY - box.top };
        view.zoomBy(Math.exp(-Math.max(-60, Math.min(60, dy)) * 0.006), at);
      } else if (event.shiftKey && dx === 0) {
        view.set(panned(view.now(), -dy, 0));
      } else {
        view.set(panned(view.now(), -dx, -dy));
      }
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, [ask.wrapper]);

  return {
    cursor,
    hovered,
    /** Escape during a drag: everything is as before. False where nothing was going on. */
    cancel(): boolean {
      if (!gesture.current) return false;
      end('cancel', null);
      return true;
    },
    holdSpace(held: boolean) {
      spaceHeld.current = held;
      if (!gesture.current) setCursor(held ? 'grab' : 'default');
    },
    handlers: {
      onPointerDown(event: PointerEvent<HTMLDivElement>) {
        if (event.target instanceof HTMLElement && event.target.closest('button')) return;
        const pointer = pointerOf(event);
        if (!pointer) return;
        event.currentTarget.focus({ preventScroll: true });
        if (event.pointerType === 'touch') {
          fingers.current.set(event.pointerId, pointer.pixel);
          if (fingers.current.size > 1) {
            end('cancel', null);
            return;
          }
        }
        if (gesture.current) return;
        if (event.button === 1) event.preventDefault();
        event.currentTarget.setPointerCapture(event.pointerId);
        lastPointer.current = pointer;
        gesture.current = startFor(pointer, event.button);
        if (gesture.current) latest.current.setBusy(true);
      },
      onPointerMove(event: PointerEvent<HTMLDivElement>) {
        const pointer = pointerOf(event);
        const { view } = latest.current;
        if (!pointer || !view) return;
        if (fingers.current.size === 2 && fingers.current.has(event.pointerId)) {
          const before = [...fingers.current.values()];
          fingers.current.set(event.pointerId, pointer.pixel);
          const after = [...fingers.current.values()];
          const [a, b] = before;
          const [c, d] = after;
          if (a && b && c && d) view.set(pinched(view.now(), [a, b], [c, d]));
          return;
        }
        lastPointer.current = pointer;
        if (gesture.current) gesture.current.move(pointer);
        else look(pointer);
      },
      onPointerUp(event: PointerEvent<HTMLDivElement>) {
        fingers.current.delete(event.pointerId);
        const pointer = pointerOf(event);
        end('complete', pointer);
        if (pointer) look(pointer);
      },
      onPointerCancel(event: PointerEvent<HTMLDivElement>) {
        fingers.current.delete(event.pointerId);
        end('cancel', null);
      },
      onPointerLeave() {
        if (gesture.current) return;
        setHovered(null);
        latest.current.room.setHover(null);
      },
      onDoubleClick(event: MouseEvent<HTMLDivElement>) {
        const pointer = pointerOf(event);
        const { room, scene } = latest.current;
        if (!pointer || scene.view === 'above' || room.tool !== 'select') return;
        const shelf = shelfAt(scene, pointer.plane);
        if (shelf) room.showShelf(shelf.id);
      },
    },
  };
}
