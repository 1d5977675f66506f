import { duplicateThings, moveThings } from '../boundCommands';
import { NOTHING_SHOWN } from '../layers/show';
import type { Gesture, GestureContext, Pointer } from './gesture';
import { boardsUp, copyStart } from './copyArithmetic';
import { movableRefs, moveBy, moveStart } from './moveArithmetic';

/** Screen distance before a press becomes a drag. */
export const DRAG_PX = 4;

/**
 * Moves the selected things; with alt held at the end, leaves them and sets down copies. Null where
 * nothing of the selection can be moved in this view.
 */
export function startMove(context: GestureContext, start: Pointer): Gesture | null {
  const refs = movableRefs(context.scene, context.selection, context.lampsOnly);
  const from = moveStart(context.scene, refs);
  if (!from) return null;
  let began = false;
  const copyFrom = copyStart(context.scene, refs) ?? from;
  const at = ({ plane, keys }: Pointer) => {
    const { toleranceMm, lengths } = context;
    if (!keys.alt) return moveBy(from, start.plane, plane, keys, toleranceMm, lengths);
    const by = moveBy(copyFrom, start.plane, plane, keys, toleranceMm, lengths);
    const boards = boardsUp(context.scene, refs, plane.up - start.plane.up);
    return boards === null ? by : { ...by, byUp: boards };
  };
  const commandAt = (pointer: Pointer) => {
    const { byAcross, byUp } = at(pointer);
    const bound = pointer.keys.alt ? duplicateThings : moveThings;
    return bound(context.scene.view, refs, byAcross, byUp);
  };
  const drop = () => {
    context.show(NOTHING_SHOWN);
    context.dropPreview();
  };
  return {
    move(pointer) {
      const far = Math.hypot(pointer.pixel.x - start.pixel.x, pointer.pixel.y - start.pixel.y);
      if (!began && far < DRAG_PX) return;
      began = true;
      context.show({ guides: at(pointer).guides, frame: null });
      context.preview(commandAt(pointer));
    },
    complete(pointer) {
      context.show(NOTHING_SHOWN);
      if (!began) return;
      const { byAcross, byUp } = at(pointer);
      if (byAcross === 0 && byUp === 0) {
        drop();
        return;
      }
      context.dropPreview();
      const added = context.act(commandAt(pointer));
      if (added && pointer.keys.alt) context.select(added);
    },
    cancel: drop,
  };
}
