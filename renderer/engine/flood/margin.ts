import { figure } from '../geometry';

/** What is over: in the unit of what there is, and as a share of it. Negative: that much is missing. */
export interface Margin {
  spare: number;
  share: number;
}

/** What there is less what is needed. Throws where there is nothing to take a share of. */
export function marginOf(has: number, needs: number): Margin {
  if (!(has > 0)) throw new Error(`margin of ${has}: a figure above 0 is expected`);
  return { spare: has - needs, share: 1 - needs / has };
}

/** `12 %`, `0.5 %`; what is nearly all is not called all. */
export function percent(share: number): string {
  if (share > 0.99 && share < 1) return 'over 99 %';
  return `${figure(share * 100, 2)} %`;
}
