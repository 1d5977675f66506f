import { sides, type Facing, type Shelf, type Side } from '../../../../shared-types/rack';
import type { ShelfInRoom } from '../../lamps';

const MATT: Facing = { kind: 'matt' };

export const facingOf = (shelf: Pick<Shelf, 'faces'>, side: Side): Facing =>
  shelf.faces?.[side] ?? MATT;

/** Whether a side itself reflects; what lies behind an open one does not count. */
export function isClosed(facing: Facing): boolean {
  switch (facing.kind) {
    case 'matt':
    case 'foil':
      return true;
    case 'wall':
    case 'dark':
    case 'lit':
    case 'shelf':
      return false;
    default:
      return facing satisfies never;
  }
}

/** Whether light of other lamps than the shelf's own comes in through a side. */
function letsLightIn(facing: Facing): boolean {
  switch (facing.kind) {
    case 'lit':
    case 'shelf':
      return true;
    case 'matt':
    case 'foil':
    case 'wall':
    case 'dark':
      return false;
    default:
      return facing satisfies never;
  }
}

type Around = Pick<ShelfInRoom, 'faces' | 'neighbours' | 'room' | 'behind'>;

/** Whether lamps of others light a shelf through its sides. */
export const litFromOutside = (shelf: Around): boolean =>
  shelf.room !== undefined ||
  (shelf.neighbours ?? []).some(({ board }) => board === 0) ||
  sides.some((side) => letsLightIn(facingOf(shelf, side)));

/** Whether any side gives light back or lets it in though it reflects none by itself. */
export const facesLight = (shelf: Around): boolean =>
  litFromOutside(shelf) ||
  sides.some((side) => shelf.behind?.[side] || facingOf(shelf, side).kind === 'wall');

/** Whether nothing stands in a side and nothing is said of what lies behind it. */
export const isOpen = (shelf: Shelf, side: Side): boolean =>
  !shelf.faces?.[side] && shelf.reflectances[side] === 0;

/** A shelf whose open sides reflect nothing by themselves, whatever figure they still carry. */
export function asFaced<S extends Shelf>(shelf: S): S {
  if (!shelf.faces) return shelf;
  const open = sides.filter((side) => !isClosed(facingOf(shelf, side)));
  const dark = Object.fromEntries(open.map((side) => [side, 0]));
  return { ...shelf, reflectances: { ...shelf.reflectances, ...dark } };
}

/** What part of a foil's reflected light leaves as from a mirror; 0 of any other side. */
export function specularOf(shelf: Pick<Shelf, 'faces'>, side: Side): number {
  const facing = facingOf(shelf, side);
  return facing.kind === 'foil' ? facing.specular : 0;
}
