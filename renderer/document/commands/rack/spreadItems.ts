import type { Rect } from '../../../engine/geometry';
import { spreadWords, type SpreadDirection } from '../../../../shared-types/window/arranging';
import { Refusal, type Command } from '../../command';
import { placedOf, type OnShelf } from '../../queries/placing';
import { sayThings } from '../../queries/names';
import { moveItems } from './moveItems';

const LEAST = 3;

/** Equal gaps between things; the outermost of each shelf stay where they are. */
export const spreadItems: Command<{ items: readonly string[]; along: SpreadDirection }> = {
  name: 'spreadItems',
  label: ({ items, along }, plan) =>
    `Equal gaps between ${sayThings(plan, items)}: ${spreadWords[along].toLowerCase()}`,
  run: (plan, { items, along }) => {
    const placed = placedOf(plan, items);
    const rows = [...new Set(placed.map(({ shelf }) => shelf.id))]
      .map((id) => placed.filter(({ shelf }) => shelf.id === id))
      .filter((row) => row.length >= LEAST);
    if (rows.length === 0) {
      throw new Refusal('Equal gaps need three things or more on one shelf.');
    }
    return rows
      .flatMap((row) => shiftsOf(row, along))
      .reduce(
        (sum, { ref, byMm }) =>
          byMm === 0
            ? sum
            : moveItems.run(sum, {
                items: [ref],
                dxMm: along === 'across' ? byMm : 0,
                dyMm: along === 'across' ? 0 : byMm,
              }),
        plan,
      );
  },
};

function shiftsOf(
  row: readonly OnShelf[],
  along: SpreadDirection,
): { ref: string; byMm: number }[] {
  const from = (r: Rect) => (along === 'across' ? r.xMm : r.yMm);
  const size = (r: Rect) => (along === 'across' ? r.widthMm : r.depthMm);
  const inOrder = [...row].sort((a, b) => from(a.rect) - from(b.rect));
  const start = Math.min(...row.map(({ rect }) => from(rect)));
  const end = Math.max(...row.map(({ rect }) => from(rect) + size(rect)));
  const free = end - start - row.reduce((sum, { rect }) => sum + size(rect), 0);
  if (free < 0) {
    throw new Refusal(
      `${row.length} things on shelf ${row[0]?.shelf.number ?? ''} have no room for gaps ${spreadWords[along].toLowerCase()}. Move the outermost apart first.`,
    );
  }
  let at = start;
  return inOrder.map(({ ref, rect }) => {
    const byMm = at - from(rect);
    at += size(rect) + free / (row.length - 1);
    return { ref, byMm };
  });
}
