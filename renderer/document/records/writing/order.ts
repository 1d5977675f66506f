import { walkingOrder } from '../../../engine/geometry';
import type { Pot } from '../../../engine/geometry';

/**
 * In which order pots are visited: `there-and-back` (every second row backwards), `rows` (each row
 * from the left), `columns` (each column from the front), `plants` (by the plant's own code).
 */
export type PotOrder = 'there-and-back' | 'rows' | 'columns' | 'plants';

const codes = new Intl.Collator('en', { numeric: true });

/**
 * Pots in an order, tray by tray as listed; by plant code over the whole list, `P9` before `P10`,
 * and pots whose plant has no code after all others.
 */
export function potsInOrder(
  pots: readonly Pot[],
  order: PotOrder,
  plantOf: (potId: string) => string | null,
): Pot[] {
  const walked = walkingOrder(pots);
  if (order === 'there-and-back') return walked;
  if (order === 'plants') {
    return walked.sort((a, b) => {
      const [one, other] = [plantOf(a.id), plantOf(b.id)];
      if (one === null || other === null) return Number(one === null) - Number(other === null);
      return codes.compare(one, other);
    });
  }
  const place = new Map<string, number>();
  for (const { trayId } of walked) if (!place.has(trayId)) place.set(trayId, place.size);
  const at = (pot: Pot) => place.get(pot.trayId) ?? 0;
  return walked.sort((a, b) => {
    if (a.trayId !== b.trayId) return at(a) - at(b);
    return order === 'rows'
      ? a.row - b.row || a.column - b.column
      : a.column - b.column || a.row - b.row;
  });
}
