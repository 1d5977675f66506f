import type { Facing, Shelf, Side } from '../../../../shared-types/rack';
import { looksBack } from '../../../engine/geometry';
import { Refusal, type Command } from '../../command';
import { change, shelfIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { fieldNumber } from '../../../words';

/**
 * Says what a side of a shelf faces. Two shelves face each other: the other one's side follows, and
 * no longer faces what it did.
 */
export const setFacing: Command<{ shelfId: string; side: Side; facing: Facing }> = {
  name: 'setFacing',
  label: ({ shelfId, side }, plan) =>
    `Set what the ${side} side of ${nameOf(plan, refTo('shelf', shelfId))} faces`,
  run: (plan, { shelfId, side, facing }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const { shelves } = draft.rack;
      if (facing.kind === 'lit' && facing.lowestUmol > facing.highestUmol) {
        throw new Refusal(
          `The room gives ${fieldNumber(facing.lowestUmol)} to ${fieldNumber(facing.highestUmol)} µmol m⁻² s⁻¹; the lower figure is expected first.`,
        );
      }
      leave(shelves, shelf, side);
      if (facing.kind === 'shelf') {
        const other = shelfIn(draft, facing.shelfId);
        if (other.id === shelf.id) {
          throw new Refusal(`Shelf ${shelf.number} cannot face itself; another shelf is expected.`);
        }
        leave(shelves, other, looksBack(side));
        face(other, looksBack(side), { ...facing, shelfId });
      }
      face(shelf, side, facing);
    }),
};

function face(shelf: Shelf, side: Side, facing: Facing | null): void {
  const { [side]: _, ...rest } = shelf.faces ?? {};
  const faces = facing === null || facing.kind === 'matt' ? rest : { ...rest, [side]: facing };
  if (Object.keys(faces).length === 0) delete shelf.faces;
  else shelf.faces = faces;
}

/** A shelf that a side faced looks into a dark room from then on. */
function leave(shelves: readonly Shelf[], shelf: Shelf, side: Side): void {
  const facing = shelf.faces?.[side];
  if (facing?.kind !== 'shelf') return;
  const other = shelves.find(({ id }) => id === facing.shelfId);
  const back = other?.faces?.[looksBack(side)];
  if (other && back?.kind === 'shelf' && back.shelfId === shelf.id) {
    face(other, looksBack(side), { kind: 'dark' });
  }
}
