import { panned } from '../plane/viewport';
import type { Gesture, GestureContext, Pointer } from './gesture';

/** Drags the picture; what was under the pointer stays under it. */
export function startPan(context: GestureContext, start: Pointer): Gesture {
  const before = context.view();
  return {
    move: ({ pixel }) =>
      context.setView(panned(before, pixel.x - start.pixel.x, pixel.y - start.pixel.y)),
    complete: () => undefined,
    cancel: () => context.setView(before),
  };
}
