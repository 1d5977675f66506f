import type { PotGrid } from '../../../shared-types/rack';
import type { Pot } from './pots';

/** Two pots that stand in each other. */
export interface PotPair {
  a: Pot;
  b: Pot;
  /** From centre to centre. */
  apartMm: number;
}

/**
 * The two of a grid's pots that overlap most, by more than `byMm`; null where none do. Empty holes
 * keep their neighbours apart. Steps on the grid are tried from the nearest on, so that the first
 * pair found on a full tray of equal pots ends the search.
 */
export function tightestPots(pots: readonly Pot[], grid: PotGrid, byMm: number): PotPair | null {
  const at = new Map(pots.map((pot) => [`${pot.row}:${pot.column}`, pot]));
  const widestMm = pots.reduce((most, { diameterMm }) => Math.max(most, diameterMm), 0);
  let best: PotPair | null = null;
  let mostMm = byMm;
  for (const step of stepsWithin(grid, widestMm - byMm)) {
    if (widestMm - step.leastMm <= mostMm) break;
    for (const a of pots) {
      const b = at.get(`${a.row + step.rows}:${a.column + step.columns}`);
      if (!b) continue;
      const apartMm = Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm);
      const overlap = (a.diameterMm + b.diameterMm) / 2 - apartMm;
      if (overlap > mostMm) [best, mostMm] = [{ a, b, apartMm }, overlap];
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
