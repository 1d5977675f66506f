import type { BoardEffect } from '../../derive';
import { plural } from '../../words';

/** `Makes 6 bays on 3 shelves. Takes 12 pots. 6 lamps would cross a board.` */
export function sayEffect(effect: BoardEffect): string {
  const { shelves, bays, potsLost, potsWon, lampsCrossed } = effect;
  return [
    `Makes ${plural(bays, 'bay')} on ${shelves === 1 ? 'this shelf' : plural(shelves, 'shelf', 'shelves')}.`,
    potsLost === 0 ? 'No pot is in the way.' : `Takes ${plural(potsLost, 'pot')} beneath it.`,
    ...(potsWon > 0 ? [`Fills ${plural(potsWon, 'hole')} again.`] : []),
    ...(lampsCrossed > 0
      ? [`${plural(lampsCrossed, 'lamp')} would cross it and must be shorter.`]
      : []),
  ].join(' ');
}
