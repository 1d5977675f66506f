import type { FloodPlan } from '../../../shared-types/flood';
import type { Rack, Shelf } from '../../../shared-types/rack';
import { kindOfLamp } from '../lamps';
import { depthAtPotMm, type TrayVessel } from './tray/basin';
import { marginOf, type Margin } from './tray/margin';
import { potLitres } from './tray/potted';
import type { TrayFlood } from './tray/trayFlood';
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
    withoutMedium: vessels.some(({ pots }) => pots.some(({ medium }) => !medium)),
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
  const { pots, first } = vessel;
  const levelMm =
    which === 'dry' || which === 'drained' || !tray
      ? null
      : which === 'blocked'
        ? first.rimMm
        : Math.min(first.rimMm, tray.peakMm);
  let solids = 0;
  // In pots above the water, which hold what their media hold after draining.
  let heldL = 0;
  // Where a pot without a stated medium stands there is no free water.
  let keptOutL = 0;
  for (const pot of pots) {
    const litres = potLitres(pot);
    const { medium } = pot;
    solids += litres * (medium ? medium.dryDensityKgM3 / 1000 : waterKgPerL);
    const under =
      levelMm === null ? 0 : Math.min(1, depthAtPotMm(vessel, pot, levelMm) / pot.heightMm);
    if (medium) heldL += litres * (1 - under) * Math.min(medium.porosity, medium.waterAtDrainShare);
    else keptOutL += litres * under;
  }
  if (which === 'dry') return solids;
  if (levelMm !== null) {
    return solids + (Math.max(0, first.volumeL(levelMm) - keptOutL) + heldL) * waterKgPerL;
  }
  const puddle =
    tray && pots.some(({ medium }) => medium)
      ? Math.max(0, first.volumeL(Math.min(tray.zone.residualMm, first.rimMm)))
      : 0;
  return solids + (heldL + puddle) * waterKgPerL;
}
