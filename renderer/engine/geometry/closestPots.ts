import type { PotGrid } from '../../../shared-types/rack';
import type { Pot } from './pots';

/**
 * Least distance of two of a grid's pots, centre to centre, where it is under `withinMm`; null where
 * no two stand that close. Empty holes keep their neighbours apart. Steps on the grid are tried from
 * the nearest on, so that the first pair found on a full tray ends the search.
 */
export function closestPots(pots: readonly Pot[], grid: PotGrid, withinMm: number): number | null {
  const at = new Map(pots.map((pot) => [`${pot.row}:${pot.column}`, pot]));
  let best: number | null = null;
  for (const step of stepsWithin(grid, withinMm)) {
    if (best !== null && step.leastMm >= best) break;
    for (const pot of pots) {
      const other = at.get(`${pot.row + step.rows}:${pot.column + step.columns}`);
      if (!other) continue;
      const distance = Math.hypot(other.xMm - pot.xMm, other.yMm - pot.yMm);
      if (distance < withinMm && distance < (best ?? Infinity)) best = distance;
    }
  }
  return best;
}

/** Steps to later rows, or along a row, that may be shorter than this, the shortest first. */
function stepsWithin(grid: PotGrid, withinMm: number) {
  const shift = grid.pattern === 'staggered' ? grid.pitchXMm / 2 : 0;
  const steps: { rows: number; columns: number; leastMm: number }[] = [];
  for (let rows = 0; rows < grid.rows && rows * grid.pitchYMm < withinMm; rows++) {
    for (let columns = rows === 0 ? 1 : 1 - grid.columns; columns < grid.columns; columns++) {
      const across = columns * grid.pitchXMm;
      // Between rows of unlike shift a step goes half a pitch more or less across.
      const least =
        rows % 2 === 0
          ? Math.abs(across)
          : Math.min(Math.abs(across - shift), Math.abs(across + shift));
      const leastMm = Math.hypot(least, rows * grid.pitchYMm);
      if (leastMm < withinMm) steps.push({ rows, columns, leastMm });
    }
  }
  return steps.sort((a, b) => a.leastMm - b.leastMm);
}
