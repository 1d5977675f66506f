import { Refusal } from '../../../words';

/** What is over: in the unit of what there is, and as a share of it. Negative: that much is missing. */
export interface Margin {
  spare: number;
  share: number;
}

/** What there is less what is needed. Throws where there is nothing to take a share of. */
export function marginOf(has: number, needs: number): Margin {
  if (!(has > 0)) throw new Refusal(`margin of ${has}: a figure above 0 is expected`);
  return { spare: has - needs, share: 1 - needs / has };
}
