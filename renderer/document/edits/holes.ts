import { Refusal } from '../command';
import { gridIn } from '../edit';
import { codeOfPot } from '../queries/names';
import { holeOf, splitPotId } from '../potsInRack';
import type { Plan } from '../../../shared-types/plan';

/** Holes (`row:column`) that lie inside a grid. */
export function holesInside(
  grid: { rows: number; columns: number },
  holes: readonly string[],
): string[] {
  return holes.filter((hole) => {
    const [row = 0, column = 0] = hole.split(':').map(Number);
    return row >= 1 && column >= 1 && row <= grid.rows && column <= grid.columns;
  });
}

/** Puts holes on a tray's list in a draft; where all of them are on it already, takes them off. */
export function toggleHoles(
  draft: Plan,
  potIds: readonly string[],
  list: 'guards' | 'empty',
): void {
  const places = potIds.map((potId) => {
    const place = splitPotId(potId);
    const grid = place && gridIn(draft, place.trayId);
    if (!grid || holesInside(grid, [holeOf(place.row, place.column)]).length === 0) {
      throw new Refusal(`There is no hole ${codeOfPot(draft, potId)}.`);
    }
    return { grid, hole: holeOf(place.row, place.column) };
  });
  const off = places.every(({ grid, hole }) => grid[list].includes(hole));
  for (const { grid, hole } of places) {
    const others = grid[list].filter((other) => other !== hole);
    grid[list] = off ? others : [...others, hole];
  }
}
