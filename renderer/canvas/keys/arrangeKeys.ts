import type { Alignment, SpreadDirection } from '../../../shared-types/window/arranging';
import { bind } from '../../document/compose';
import { alignItems, spreadItems } from '../../document/commands/index';
import { sayThings } from '../../document/queries/names';
import { plural } from '../../words/index';
import { copyToOthers } from '../boundCommands';
import { movableRefs } from '../gestures/moveArithmetic';
import type { KeyAsk } from './keyAsk';
import type { Direction } from '../plane/focusOrder';
import { fromAbove } from '../plane/things';

/** Alt with an arrow lines the selected things up on that side; with Shift it makes equal gaps. */
export function pressToArrange(ask: KeyAsk, direction: Direction, spread: boolean): boolean {
  const { room, scene, look } = ask;
  if (look.editable === false) return false;
  const items = movableRefs(scene, room.selection, look.editable === 'lamps').filter(
    (ref) => !ref.startsWith('shelf:'),
  );
  if (items.length < 2) return false;
  const above = fromAbove(scene.view);
  const level = direction === 'left' || direction === 'right';
  if (spread) {
    const along: SpreadDirection = level ? 'across' : 'depth';
    // From the front no depth is seen.
    if (above || level) room.act(bind(spreadItems, { items, along }));
    return true;
  }
  room.act(bind(alignItems, { items, to: sideOf(direction, above) }));
  return true;
}

function sideOf(direction: Direction, above: boolean): Alignment {
  switch (direction) {
    case 'left':
    case 'right':
      return direction;
    case 'up':
      return above ? 'back' : 'highest';
    case 'down':
      return above ? 'front' : 'lowest';
  }
}

/** Copies what is selected to every other shelf that has room, and selects the copies where they are seen. */
export function pressToCopy({ room, scene, look }: KeyAsk): boolean {
  if (look.editable === false) return true;
  const refs = movableRefs(scene, room.selection, look.editable === 'lamps');
  const added = refs.length > 0 ? room.act(copyToOthers(room.plan, refs)) : null;
  if (!added) return true;
  if (scene.view !== 'above') room.select(added);
  room.setHover(
    `Copied ${sayThings(room.plan, refs)} to ${plural(copies(refs, added), 'shelf', 'shelves')}`,
  );
  return true;
}

const copies = (refs: readonly string[], added: readonly string[]) => added.length / refs.length;
