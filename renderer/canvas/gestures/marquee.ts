import { NOTHING_SHOWN } from '../layers/show';
import { boxBetween } from '../plane/box';
import { refsInFrame } from '../plane/hit';
import type { Gesture, GestureContext, Pointer } from './gesture';

/**
 * Selects what a frame encloses; drawn from right to left, what it touches. With shift or ctrl the
 * former selection stays.
 */
export function startMarquee(
  context: GestureContext,
  start: Pointer,
  wanted: 'things' | 'lamps' | 'pots',
): Gesture {
  const kept = start.keys.shift || start.keys.ctrl ? context.selection : [];
  const taken = (pointer: Pointer) => {
    const frame = boxBetween(start.plane, pointer.plane);
    const touching = pointer.plane.across < start.plane.across;
    return {
      frame,
      refs: [...new Set([...kept, ...refsInFrame(context.scene, frame, wanted, touching)])],
    };
  };
  return {
    move(pointer) {
      const { frame, refs } = taken(pointer);
      // Selected at the end alone: until then figures and panels stay as they are.
      context.show({ guides: [], frame, framed: refs });
    },
    complete(pointer) {
      context.show(NOTHING_SHOWN);
      context.select(taken(pointer).refs);
    },
    cancel: () => context.show(NOTHING_SHOWN),
  };
}
