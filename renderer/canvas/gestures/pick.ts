import { toggleGuardPots, toggleEmpty } from '../boundCommands';
import { holeAt } from '../plane/hit';
import { refTo } from '../../document/queries/refs';
import type { Gesture, GestureContext, Pointer } from './gesture';

/**
 * Picks guard pots or empty holes: by a click, or by brushing over several, each once. One brush is
 * one undo step.
 */
export function startPick(
  context: GestureContext,
  start: Pointer,
  what: 'guard' | 'hole',
): Gesture | null {
  const first = holeAt(context.scene, start.plane);
  if (first === null) return null;
  const picked = new Set<string>([first]);
  const command = () =>
    what === 'guard' ? toggleGuardPots([...picked]) : toggleEmpty([...picked]);
  const add = (pointer: Pointer) => {
    const hole = holeAt(context.scene, pointer.plane);
    // A brush stays in the state it began with: turning some on and others off would be a riddle.
    if (hole === null || picked.has(hole)) return;
    if (what === 'hole' && isEmpty(context, hole) !== isEmpty(context, first)) return;
    if (what === 'guard' && isGuard(context, hole) !== isGuard(context, first)) return;
    picked.add(hole);
    context.preview(command());
  };
  context.preview(command());
  return {
    move: add,
    complete(pointer) {
      add(pointer);
      context.dropPreview();
      context.act(command());
    },
    cancel: () => context.dropPreview(),
  };
}

function isEmpty(context: GestureContext, hole: string): boolean {
  return !context.scene.potByRef.has(refTo('pot', hole));
}

function isGuard(context: GestureContext, hole: string): boolean {
  return context.scene.potByRef.get(refTo('pot', hole))?.pot.guard === true;
}
