import { resizeThing } from '../boundCommands';
import { NOTHING_SHOWN } from '../layers/show';
import type { Thing } from '../plane/things';
import { refTo } from '../../document/queries/refs';
import type { Gesture, GestureContext, Pointer } from './gesture';
import { type Handle, handleBox, resized } from './resizeArithmetic';

/** Drags a handle of a tray or shelf. */
export function startResize(
  context: GestureContext,
  start: Pointer,
  thing: Thing,
  handle: Handle,
): Gesture {
  const { scene } = context;
  const box = handleBox(thing, scene.view);
  const shelf = scene.byRef.get(refTo('shelf', thing.shelf.id));
  const others = [
    ...scene.things
      .filter((t) => t.kind === thing.kind && t.ref !== thing.ref)
      .filter((t) => scene.view !== 'all' || t.shelf.id === thing.shelf.id)
      .map((t) => handleBox(t, scene.view)),
    ...(thing.kind === 'tray' && shelf ? [handleBox(shelf, scene.view)] : []),
  ];
  const at = (pointer: Pointer) =>
    resized(
      box,
      handle,
      start.plane,
      pointer.plane,
      pointer.keys,
      others,
      context.toleranceMm,
      context.lengths,
    );
  let began = false;
  return {
    move(pointer) {
      const next = at(pointer);
      began = true;
      context.show({ guides: next.guides, frame: null });
      context.preview(resizeThing(scene.view, thing, next.box));
    },
    complete(pointer) {
      context.show(NOTHING_SHOWN);
      if (!began) return;
      const next = at(pointer).box;
      const same =
        next.left === box.left &&
        next.right === box.right &&
        next.bottom === box.bottom &&
        next.top === box.top;
      context.dropPreview();
      if (!same) context.act(resizeThing(scene.view, thing, next));
    },
    cancel() {
      context.show(NOTHING_SHOWN);
      context.dropPreview();
    },
  };
}
