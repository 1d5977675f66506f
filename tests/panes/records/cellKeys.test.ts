import { describe, expect, it } from 'vitest';
import {
  cellAfter,
  cellBefore,
  cellByKey,
  nextCellWhere,
} from '../../../renderer/panes/records/grid/cellKeys';

const size = { rows: 3, columns: 2 };
const every = Array.from({ length: 6 }, (_, i) => ({ row: i % 3, column: Math.floor(i / 3) }));

describe('the way of the cursor', () => {
  it('visits every cell once, down or across, and stays at the end', () => {
    for (const way of ['down', 'across'] as const) {
      const seen = [{ row: 0, column: 0 }];
      for (let i = 0; i < 5; i++) {
        seen.push(cellAfter(seen.at(-1) ?? { row: 0, column: 0 }, size, way));
      }
      expect(new Set(seen.map(({ row, column }) => `${row}:${column}`)).size).toBe(6);
      expect(cellAfter({ row: 2, column: 1 }, size, way)).toEqual({ row: 2, column: 1 });
    }
  });

  it('goes back by the same way', () => {
    for (const way of ['down', 'across'] as const) {
      for (const at of every) {
        const next = cellAfter(at, size, way);
        if (next !== at) expect(cellBefore(next, size, way)).toEqual(at);
      }
      expect(cellBefore({ row: 0, column: 0 }, size, way)).toEqual({ row: 0, column: 0 });
    }
  });

  it('never leaves the grid by arrows and pages', () => {
    for (const key of ['ArrowDown', 'ArrowUp', 'ArrowLeft', 'ArrowRight', 'PageDown', 'PageUp']) {
      for (const at of every) {
        const to = cellByKey(key, at, size);
        expect(every).toContainEqual(to);
      }
    }
    expect(cellByKey('x', { row: 0, column: 0 }, size)).toBeNull();
  });

  it('finds the next cell that fits, down its column, round, and then in the next', () => {
    const open =
      (...places: string[]) =>
      (p: { row: number; column: number }) =>
        places.includes(`${p.row}:${p.column}`);
    const from = { row: 1, column: 0 };
    expect(nextCellWhere(from, size, open('2:0', '0:0'))).toEqual({ row: 2, column: 0 });
    expect(nextCellWhere(from, size, open('0:0', '1:1'))).toEqual({ row: 0, column: 0 });
    expect(nextCellWhere(from, size, open('2:1', '0:1'))).toEqual({ row: 0, column: 1 });
    expect(nextCellWhere(from, size, open())).toBeNull();
  });
});
