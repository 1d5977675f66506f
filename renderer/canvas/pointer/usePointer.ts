import { useEffect, useRef, useState } from 'react';
import type { MouseEvent, PointerEvent, RefObject } from 'react';
import { Fingers } from './fingers';
import type { Taken } from '../gestures/cycle';
import type { Gesture, Pointer } from '../gestures/gesture';
import { NOTHING_SHOWN } from '../layers/show';
import { shelfAt } from '../plane/scene';
import { toPlane } from '../plane/viewport';
import { gestureFor, goUnder, lookAt, sayTaken, type Pointed } from './pointed';
import { pixelIn, useWheel } from './useWheel';
import type { ViewportControl } from '../useViewport';

export interface PointerAsk extends Omit<Pointed, 'view' | 'taken' | 'take'> {
  wrapper: RefObject<HTMLDivElement | null>;
  view: ViewportControl | null;
  setBusy: (busy: boolean) => void;
}

const DOUBLE_CLICK_MS = 400;

/** A double click opens the shelf under it, but for the view that shows one alone. */
const opensShelf = ({ scene, room }: PointerAsk): boolean =>
  scene.view !== 'above' && room.tool === 'select';

/** Turns presses, drags, wheel and fingers into gestures, and says what the pointer is over. */
export function usePointer(ask: PointerAsk) {
  const latest = useRef(ask);
  latest.current = ask;
  const gesture = useRef<Gesture | null>(null);
  const fingers = useRef(new Fingers());
  const taken = useRef<Taken | null>(null);
  const over = useRef<Pointer | null>(null);
  const spaceHeld = useRef(false);
  const pressedAt = useRef(-Infinity);
  const [cursor, setCursor] = useState('default');
  useWheel(ask.wrapper, () => latest.current.view);

  const pointedNow = (): Pointed | null => {
    const { view, ...rest } = latest.current;
    const take = (next: Taken) => {
      taken.current = next;
    };
    return view ? { ...rest, view, taken: taken.current, take } : null;
  };
  const pointerOf = (event: MouseEvent | PointerEvent): Pointer | null => {
    const { view, wrapper } = latest.current;
    if (!view) return null;
    const pixel = pixelIn(wrapper.current, event);
    const ctrl = event.ctrlKey || event.metaKey;
    const keys = { shift: event.shiftKey, ctrl, alt: event.altKey };
    return { pixel, plane: toPlane(view.now(), pixel), keys };
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
    const pointed = pointedNow();
    if (!pointed) return;
    const seen = lookAt(pointed, pointer);
    pointed.room.setHover(seen.line);
    pointed.room.pointAt(seen.ringed);
    setCursor(spaceHeld.current ? 'grab' : seen.cursor);
  };

  // What is said of a stack goes by what is selected of it.
  const { selection } = ask.room;
  useEffect(() => {
    if (over.current && !gesture.current) look(over.current);
  }, [selection]);

  return {
    cursor,
    /** What lies with the one thing selected where it was taken. */
    stackWords(): string {
      const pointed = pointedNow();
      return pointed ? sayTaken(pointed) : '';
    },
    /** Escape during a drag: everything is as before. False where nothing was going on. */
    cancel(): boolean {
      if (!gesture.current) return false;
      end('cancel', null);
      return true;
    },
    goUnder(): boolean {
      const pointed = pointedNow();
      return pointed !== null && goUnder(pointed, over.current?.plane ?? null);
    },
    holdSpace(held: boolean) {
      spaceHeld.current = held;
      if (!gesture.current) setCursor(held ? 'grab' : 'default');
    },
    handlers: {
      onPointerDown(event: PointerEvent<HTMLDivElement>) {
        if (event.target instanceof HTMLElement && event.target.closest('button')) return;
        const place = pointerOf(event);
        if (!place) return;
        const second = event.timeStamp - pressedAt.current < DOUBLE_CLICK_MS;
        pressedAt.current = event.timeStamp;
        const pointer = { ...place, second: second && opensShelf(latest.current) };
        event.currentTarget.focus({ preventScroll: true });
        if (event.pointerType === 'touch') {
          if (fingers.current.put(event.pointerId, pointer.pixel) > 1) {
            end('cancel', null);
            return;
          }
        }
        if (gesture.current) return;
        if (event.button === 1) event.preventDefault();
        event.currentTarget.setPointerCapture(event.pointerId);
        const pointed = pointedNow();
        gesture.current = pointed && gestureFor(pointed, pointer, event.button, spaceHeld.current);
        if (gesture.current) latest.current.setBusy(true);
      },
      onPointerMove(event: PointerEvent<HTMLDivElement>) {
        const pointer = pointerOf(event);
        const { view } = latest.current;
        if (!pointer || !view) return;
        const pinched = fingers.current.pinch(event.pointerId, pointer.pixel, view.now());
        if (pinched) {
          view.set(pinched);
          return;
        }
        over.current = pointer;
        if (gesture.current) gesture.current.move(pointer);
        else look(pointer);
      },
      onPointerUp(event: PointerEvent<HTMLDivElement>) {
        fingers.current.lift(event.pointerId);
        const pointer = pointerOf(event);
        end('complete', pointer);
        if (pointer) look(pointer);
      },
      onPointerCancel(event: PointerEvent<HTMLDivElement>) {
        fingers.current.lift(event.pointerId);
        end('cancel', null);
      },
      onPointerLeave() {
        if (gesture.current) return;
        over.current = null;
        latest.current.room.pointAt(null);
        latest.current.room.setHover(null);
      },
      /** A right click writes an incident down: of all that is selected, where it is one of them. */
      onContextMenu(event: MouseEvent<HTMLDivElement>) {
        event.preventDefault();
        const pointer = pointerOf(event);
        const pointed = pointedNow();
        if (!pointer || !pointed || gesture.current) return;
        const { ringed } = lookAt(pointed, pointer);
        const { room } = pointed;
        if (ringed !== null && !room.selection.includes(ringed)) room.select([ringed]);
        if (ringed !== null) room.logIncident();
      },
      onDoubleClick(event: MouseEvent<HTMLDivElement>) {
        const pointer = pointerOf(event);
        const { room, scene } = latest.current;
        if (!pointer || !opensShelf(latest.current)) return;
        const shelf = shelfAt(scene, pointer.plane);
        if (shelf) room.showShelf(shelf.id);
      },
    },
  };
}
