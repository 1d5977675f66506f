import type { Plan } from '../../../../shared-types/plan';
import type { Shelf } from '../../../../shared-types/rack';
import { Refusal, type Command } from '../../command';
import { change, shelfIn } from '../../edit';
import { copyBoard, copyLamp, copyTray } from '../../edits/copyItems';
import { inTheWay, placedOf, type OnShelf } from '../../queries/placing';
import { nameOf, sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** The same trays, lamps and boards on other shelves too, where they stand and hang on their own. */
export const copyToShelves: Command<{
  items: readonly string[];
  toShelfIds: readonly string[];
}> = {
  name: 'copyToShelves',
  label: ({ items, toShelfIds }, plan) =>
    `Copy ${sayThings(plan, items)} to ${sayThings(
      plan,
      toShelfIds.map((id) => refTo('shelf', id)),
    )}`,
  run: (plan, { items, toShelfIds }) => {
    const placed = placedOf(plan, items);
    const [first] = placed;
    if (!first) throw new Refusal('Select trays, lamps or boards to copy them to other shelves.');
    if (placed.some(({ shelf }) => shelf.id !== first.shelf.id)) {
      throw new Refusal('Only things of one shelf are copied to others: select fewer.');
    }
    const shelves = toShelfIds.map((id) => shelfIn(plan, id));
    if (shelves.length === 0) {
      throw new Refusal(`No other shelf has room for ${sayThings(plan, items)}.`);
    }
    for (const to of shelves) checkRoom(plan, placed, to);
    return change(plan, (draft) => {
      for (const { id } of shelves) {
        for (const one of placed) put(draft, one, shelfIn(draft, id));
      }
    });
  },
};

function put(draft: Plan, one: OnShelf, to: Shelf): void {
  switch (one.kind) {
    case 'tray':
      return copyTray(draft, to, one.tray);
    case 'board':
      return copyBoard(draft, to, one.board);
    case 'lamp':
      return copyLamp(draft, { from: one.shelf, to }, one.lamp);
  }
}

function checkRoom(plan: Plan, placed: readonly OnShelf[], to: Shelf): void {
  for (const one of placed) {
    const there = inTheWay(plan.rack, one, to);
    if (there === null) continue;
    const name = nameOf(plan, one.ref);
    throw new Refusal(
      there === 'beyond'
        ? `Shelf ${to.number} is too small for ${name}.`
        : `Shelf ${to.number} has no room for ${name}: ${nameOf(plan, there.ref)} is there.`,
    );
  }
}
