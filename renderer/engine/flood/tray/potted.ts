import type { FloodPlan, Medium } from '../../../../shared-types/flood';
import type { Shelf, Tray } from '../../../../shared-types/rack';
import { potsOfTray, type Pot } from '../../geometry';

/** What one pot has of its own in place of what its tray says. */
export interface Potting {
  mediumId: string;
}

/** The flooding with pots that differ from what their tray says, by pot id. */
export interface PottedFlood extends FloodPlan {
  potted?: ReadonlyMap<string, Potting>;
}

/** A pot with what it is filled with; null: nothing is stated. */
export interface PottedPot extends Pot {
  medium: Medium | null;
}

/** The pots of a tray as they are filled: a medium of their own comes before the tray's. */
export function pottedPots(flood: PottedFlood, shelf: Shelf, tray: Tray): PottedPot[] {
  const { media, potted } = flood;
  const ofTray = media.find((m) => m.trayIds.includes(tray.id)) ?? null;
  return potsOfTray(shelf, tray).map((pot) => {
    const own = potted?.get(pot.id);
    return {
      ...pot,
      medium: media.find((m) => m.id === own?.mediumId) ?? ofTray,
    };
  });
}

/** Room in a pot, taken as an upright cylinder, L. */
export const potLitres = ({ diameterMm, heightMm }: Pick<Pot, 'diameterMm' | 'heightMm'>): number =>
  ((Math.PI / 4) * diameterMm ** 2 * heightMm) / 1e6;
