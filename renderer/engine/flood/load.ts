import type { FloodPlan } from '../../../shared-types/flood';
import type { Rack, Shelf } from '../../../shared-types/rack';
import { kindOfLamp } from '../lamps';
import { depthAtPotMm, type TrayVessel } from './basin';
import { marginOf, type Margin } from './margin';
import type { TrayFlood } from './trayFlood';
import { ROOM_C, waterDensityKgM3 } from './water';

export const loadCases = ['dry', 'drained', 'flooded', 'blocked'] as const;
export type LoadCase = (typeof loadCases)[number];

export const loadCaseWords: Record<LoadCase, string> = {
  dry: 'dry',
  drained: 'pots wet, trays drained',
  flooded: 'all trays flooded',
  blocked: 'every drain blocked, trays full to the rim',
};

/** What stands on one shelf, kg. */
export interface ShelfLoad {
  shelf: Shelf;
  lampsKg: number;
  casesKg: Record<LoadCase, number>;
  /** Each tray with all that is in it, by tray id. */
  trayKg: ReadonlyMap<string, Record<LoadCase, number>>;
  heaviest: LoadCase;
  ratedKg: number | null;
  /** Of the rating in the heaviest case, kg; null without a rating. */
  margin: Margin | null;
  /** Trays in which no medium is stated: their pots count as heavy as water. */
  withoutMedium: boolean;
}

/**
 * Load on a shelf. Flooded is each tray at the highest water of its day, as scheduled; that pumps may
 * run on, or drains clog, is the case of all trays full to the rim, which a shelf should bear as well.
 * What counts: trays, pots, media, water, and the lamps over it as if it carried them. The
 * plants' own weight is not in it. Pots without a stated medium count as heavy as water and as
 * displacing it, so that together they weigh like the same room filled with water.
 */
export function shelfLoad(
  flood: FloodPlan,
  rack: Rack,
  shelf: Shelf,
  vessels: readonly TrayVessel[],
  trays: readonly TrayFlood[],
): ShelfLoad {
  const water = waterDensityKgM3(ROOM_C) / 1000;
  const lampsKg = shelf.lamps.reduce((sum, lamp) => sum + kindOfLamp(rack, lamp).massKg, 0);
  const trayKg = new Map(
    vessels.map((vessel) => {
      const tray = trays.find((t) => t.trayId === vessel.tray.id);
      const kg = (which: LoadCase) => flood.trayMassKg + contentKg(vessel, which, tray, water);
      return [vessel.tray.id, byCase(kg)];
    }),
  );
  const casesKg = byCase((which) =>
    [...trayKg.values()].reduce((sum, kg) => sum + kg[which], lampsKg),
  );
  const heaviest = loadCases.reduce((a, b) => (casesKg[b] > casesKg[a] ? b : a));
  const ratedKg = shelf.ratedLoadKg;
  return {
    shelf,
    lampsKg,
    casesKg,
    trayKg,
    heaviest,
    ratedKg,
    margin: ratedKg === null ? null : marginOf(ratedKg, casesKg[heaviest]),
    withoutMedium: vessels.some((v) => v.pots.length > 0 && !v.medium),
  };
}

function byCase(kg: (which: LoadCase) => number): Record<LoadCase, number> {
  return { dry: kg('dry'), drained: kg('drained'), flooded: kg('flooded'), blocked: kg('blocked') };
}

/** Pots, media and water of one tray, kg. Trays in no zone hold wet pots at most. */
function contentKg(
  vessel: TrayVessel,
  which: LoadCase,
  tray: TrayFlood | undefined,
  waterKgPerL: number,
): number {
  const { medium, pots, first } = vessel;
  const potL = pots.map((pot) => ((Math.PI / 4) * pot.diameterMm ** 2 * pot.heightMm) / 1e6);
  const allPotsL = potL.reduce((a, b) => a + b, 0);
  const solids = medium ? (allPotsL * medium.dryDensityKgM3) / 1000 : allPotsL * waterKgPerL;
  if (which === 'dry') return solids;
  const held = medium ? Math.min(medium.porosity, medium.waterAtDrainShare) : 0;
  const levelMm =
    which === 'drained' || !tray
      ? null
      : which === 'blocked'
        ? first.rimMm
        : Math.min(first.rimMm, tray.peakMm);
  if (levelMm === null) {
    const puddle = tray
      ? Math.max(0, first.volumeL(Math.min(tray.zone.residualMm, first.rimMm)))
      : 0;
    return solids + (allPotsL * held + (medium ? puddle : 0)) * waterKgPerL;
  }
  if (!medium) {
    // Where a pot stands there is no free water.
    const under = pots.reduce((sum, pot, i) => {
      const share = Math.min(1, depthAtPotMm(vessel, pot, levelMm) / pot.heightMm);
      return sum + (potL[i] ?? 0) * share;
    }, 0);
    return solids + Math.max(0, first.volumeL(levelMm) - under) * waterKgPerL;
  }
  // Above the water the media hold what they hold after draining.
  const above = pots.reduce((sum, pot, i) => {
    const share = 1 - Math.min(1, depthAtPotMm(vessel, pot, levelMm) / pot.heightMm);
    return sum + (potL[i] ?? 0) * share;
  }, 0);
  return solids + (first.volumeL(levelMm) + above * held) * waterKgPerL;
}
