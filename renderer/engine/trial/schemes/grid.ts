import type { DrawGroup, Tier } from '../site/site';
import { Refusal } from '../../../words';

/** Units that fill a rectangle: `units[row][column]`, rows from the front (or the lowest shelf). */
export interface UnitGrid {
  rows: number;
  columns: number;
  units: number[][];
}

/**
 * The rectangle that a group's units fill: pots by their rows and columns in the tray, trays by
 * shelf and by their order from left to right. null where they fill none.
 */
export function unitGridOf(tier: Tier, group: DrawGroup): UnitGrid | null {
  const cells = group.units.map((unit) => {
    const pot = tier.firstPot[unit];
    if (!pot) throw new Refusal(`unit ${unit} of the ${tier.unit}s has no pot; one is expected`);
    if (tier.unit === 'pot') return { unit, row: pot.row, column: pot.column };
    return { unit, row: Number(pot.shelfId.replace(/^[a-z]+/, '')), column: pot.xMm };
  });
  const rows = [...new Set(cells.map((cell) => cell.row))].sort((a, b) => a - b);
  const lines = rows.map((row) =>
    cells.filter((cell) => cell.row === row).sort((a, b) => a.column - b.column),
  );
  const columns = lines[0]?.length ?? 0;
  if (columns === 0 || lines.some((line) => line.length !== columns)) return null;
  if (tier.unit === 'pot') {
    // Holes must line up one behind the other; trays only in their order on the shelf.
    const front = lines[0]?.map((cell) => cell.column) ?? [];
    const aligned = lines.every((line) => line.every((cell, i) => cell.column === front[i]));
    if (!aligned) return null;
  }
  return { rows: rows.length, columns, units: lines.map((line) => line.map((c) => c.unit)) };
}
