import type { Shelf } from '../../../shared-types/rack';

/** The part of a shelf that shares its lamps: the whole shelf. */
export interface Bay {
  /** Of the shelf's own number. */
  id: string;
  name: string;
}

export const baysOf = (shelf: Pick<Shelf, 'id' | 'number'>): [Bay] => [
  { id: shelf.id.replace(/^[a-z]+/, 'b'), name: String(shelf.number) },
];
