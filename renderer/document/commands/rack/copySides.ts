import { sides, type Shelf } from '../../../../shared-types/rack';
import type { Command } from '../../command';
import { change, shelfIn } from '../../edit';
import { nameOf, sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';

/**
 * Gives shelves the surfaces of one and what its sides face. A side that faces a shelf by name, there
 * or here, stays: no two shelves have the same neighbour.
 */
export const copySides: Command<{ fromShelfId: string; toShelfIds: readonly string[] }> = {
  name: 'copySides',
  label: ({ fromShelfId, toShelfIds }, plan) =>
    `Copy sides of ${nameOf(plan, refTo('shelf', fromShelfId))} to ${sayThings(
      plan,
      toShelfIds.map((id) => refTo('shelf', id)),
    )}`,
  run: (plan, { fromShelfId, toShelfIds }) =>
    change(plan, (draft) => {
      const model = shelfIn(plan, fromShelfId);
      for (const shelfId of toShelfIds) {
        const shelf = shelfIn(draft, shelfId);
        shelf.reflectances = { ...model.reflectances };
        const faces = facesFrom(model, shelf);
        if (Object.keys(faces).length === 0) delete shelf.faces;
        else shelf.faces = faces;
      }
    }),
};

function facesFrom(model: Shelf, shelf: Shelf): NonNullable<Shelf['faces']> {
  return Object.fromEntries(
    sides.flatMap((side) => {
      const [asked, own] = [model.faces?.[side], shelf.faces?.[side]];
      const named = asked?.kind === 'shelf' || own?.kind === 'shelf';
      const facing = named ? own : asked;
      return facing ? [[side, { ...facing }]] : [];
    }),
  );
}
