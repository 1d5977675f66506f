import { NOTHING_SHOWN } from '../layers/show';
import { hitAt, stackAt, type Hit, type StackRules } from '../plane/hit';
import { fromAbove } from '../plane/things';
import { isSamePlace, nextUnder, selectedIn, stillTaken } from './cycle';
import type { Gesture, GestureContext, Pointer } from './gesture';
import { startMarquee } from './marquee';
import { DRAG_PX, startMove } from './move';
import { movableRefs } from './moveArithmetic';

/**
 * A press of the selecting tool. Released where it began it is a click, which selects (with shift or
 * ctrl: adds or takes away; with alt, or again on the same place: what lies under it); dragged on
 * something movable it moves, dragged elsewhere it frames.
 */
export function startPress(context: GestureContext, start: Pointer, rules: StackRules): Gesture {
  const hit = hitAt(context.scene, start.plane, rules.slackMm);
  const stack = stackAt(context.scene, start.plane, rules);
  const target = graspedIn(stack, context) ?? null;
  const before = context.selection;
  const adding = start.keys.shift || start.keys.ctrl;
  const held = target !== null && before.includes(target);
  const grasped = held ? before : target === null ? [] : adding ? [...before, target] : [target];
  const onBay = hit.shelf !== null && target === hit.shelf.ref && !onBoard(context, hit, start);
  const movable =
    target !== null &&
    !onBay &&
    rules.editable !== false &&
    movableRefs(context.scene, [target], rules.editable === 'lamps').length > 0;
  let inner: Gesture | null = null;

  const begin = (): Gesture => {
    if (movable) {
      context.select(grasped);
      const move = startMove({ ...context, selection: grasped }, start);
      if (move) return move;
    }
    const wanted =
      rules.editable === true ? 'things' : rules.editable === 'lamps' ? 'lamps' : 'pots';
    return startMarquee(context, start, wanted);
  };

  return {
    move(pointer) {
      const far = Math.hypot(pointer.pixel.x - start.pixel.x, pointer.pixel.y - start.pixel.y);
      if (!inner && far < DRAG_PX) return;
      inner ??= begin();
      inner.move(pointer);
    },
    complete(pointer) {
      if (inner) {
        inner.complete(pointer);
        return;
      }
      context.show(NOTHING_SHOWN);
      const pot = fromAbove(context.scene.view) && rules.editable === true ? hit.pot : null;
      const clicked = clickedIn(stack, context, start, pot?.ref);
      if (clicked === undefined) {
        if (!adding) context.select([]);
        return;
      }
      if (adding) {
        const kept = before.filter((ref) => ref !== clicked);
        context.select(before.includes(clicked) ? kept : [...mixable(before, clicked), clicked]);
        return;
      }
      context.select([clicked]);
      context.take({ ref: clicked, place: start.plane });
    },
    cancel() {
      inner?.cancel();
      context.select(before);
    },
  };
}

/**
 * What a drag takes hold of: what was taken out of the stack by clicks or a key, else its first. A pot
 * goes with its tray.
 */
export function graspedIn(
  stack: readonly string[],
  { taken, selection }: Pick<GestureContext, 'taken' | 'selection'>,
): string | undefined {
  const held = stillTaken(taken, selection) ? selectedIn(stack, selection) : undefined;
  return held === undefined || held.startsWith('pot:') ? stack[0] : held;
}

/** What a click selects; `pot`: the one under it, where pots lie beneath what can be moved. */
function clickedIn(
  stack: readonly string[],
  context: GestureContext,
  { plane, keys, second }: Pointer,
  pot: string | undefined,
): string | undefined {
  const { taken, selection } = context;
  const [first] = stack;
  const selected = selectedIn(stack, selection);
  // Who has begun with pots goes on with them.
  const amongPots = pot !== undefined && selection.some((ref) => ref.startsWith('pot:'));
  if (keys.shift || keys.ctrl) return amongPots ? pot : first;
  if (keys.alt) return nextUnder(stack, selected ?? first);
  if (second && selected !== undefined) return selected;
  const again =
    stillTaken(taken, selection) && isSamePlace(taken.place, plane, context.view().scale);
  if (again) return nextUnder(stack, selected);
  if (amongPots) return pot;
  // What a drag or another view has selected is taken first; from above its pot comes at once.
  return selected !== undefined && selected === first ? (pot ?? first) : first;
}

/** Pots are selected among pots: a tray and one of its pots have nothing in common to edit. */
function mixable(selection: readonly string[], added: string): string[] {
  const pot = added.startsWith('pot:');
  return selection.filter((ref) => ref.startsWith('pot:') === pot);
}

/** From the front a shelf is grasped by its board; its bay is ground for framing. */
function onBoard(context: GestureContext, hit: Hit, start: Pointer): boolean {
  if (context.scene.view !== 'front' || !hit.shelf) return false;
  // The board is thin; a few pixels on either side belong to it.
  const slack = 4 / context.view().scale;
  const { box } = hit.shelf;
  return start.plane.up <= box.top + slack && start.plane.up >= box.bottom - slack;
}
