import { NOTHING_SHOWN } from '../layers/show';
import type { Hit } from '../plane/hit';
import { hitAt } from '../plane/hit';
import { fromAbove } from '../plane/things';
import type { Gesture, GestureContext, Pointer } from './gesture';
import { startMarquee } from './marquee';
import { DRAG_PX, startMove } from './move';
import { movableRefs } from './moveArithmetic';

/** What the selecting tool lets a person do on this stage. */
export interface PressRules {
  /** Things that may be moved: all, lamps only, or none. */
  editable: boolean | 'lamps';
  /** How near a lamp counts as on it, mm. */
  slackMm: number;
  /** A point mark under the pointer, which wins over everything. */
  point: string | null;
}

/** What a press takes hold of: the thing itself where it can be moved, else the pot under it. */
export function targetOf(hit: Hit, rules: PressRules): string | null {
  if (rules.point !== null) return rules.point;
  if (rules.editable === true) {
    return hit.lamp?.ref ?? hit.board?.ref ?? hit.tray?.ref ?? hit.shelf?.ref ?? null;
  }
  if (rules.editable === 'lamps' && hit.lamp) return hit.lamp.ref;
  return hit.pot?.ref ?? hit.tray?.ref ?? hit.shelf?.ref ?? null;
}

/**
 * A press of the selecting tool. Released where it began it is a click, which selects (with shift or
 * ctrl: adds or takes away); dragged on something movable it moves, dragged elsewhere it frames.
 */
export function startPress(context: GestureContext, start: Pointer, rules: PressRules): Gesture {
  const hit = hitAt(context.scene, start.plane, rules.slackMm);
  const target = targetOf(hit, rules);
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
      if (target === null) {
        if (!adding) context.select([]);
        return;
      }
      // A second click on a selected tray goes on to the pot under it.
      const pot = fromAbove(context.scene.view) && rules.editable === true ? hit.pot : null;
      const deeper =
        pot && (held || before.some((ref) => ref.startsWith('pot:'))) ? pot.ref : target;
      if (adding) {
        const kept = before.filter((ref) => ref !== deeper);
        context.select(before.includes(deeper) ? kept : [...mixable(before, deeper), deeper]);
      } else {
        context.select([deeper]);
      }
    },
    cancel() {
      inner?.cancel();
      context.select(before);
    },
  };
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
