import type { LightPlan } from '../../../shared-types/light';
import type { Rack, Shelf } from '../../../shared-types/rack';
import { canopyHeightMm, potsOfTray, type Pot } from '../geometry';
import { dli } from './dli';
import { evenness, type Evenness } from './evenness';
import { ppfdAtPoints } from './field';

/** Whether meter readings stand behind a figure. */
export type LightSource = 'estimated' | 'calibrated';

export interface PotLightValue {
  potId: string;
  ppfdUmol: number;
  dliMol: number;
  source: LightSource;
}

/** The light of one tray or shelf, judged at its pots. */
export interface LightSummary {
  /** The tray's or shelf's id. */
  id: string;
  heightMm: number;
  source: LightSource;
  /** PPFD over all pots; null where there are none. */
  evenness: Evenness | null;
  /** PPFD over the pots that are not guard pots. */
  withoutGuards: Evenness | null;
}

export interface PotLight {
  /** By pot id. Pots of a shelf whose light cannot be computed are absent. */
  pots: ReadonlyMap<string, PotLightValue>;
  trays: ReadonlyMap<string, LightSummary>;
  shelves: ReadonlyMap<string, LightSummary>;
  /** Why a shelf's light cannot be computed, by shelf id. */
  problems: ReadonlyMap<string, string>;
}

function summary(
  id: string,
  heightMm: number,
  source: LightSource,
  pots: readonly Pot[],
  ppfdOf: (pot: Pot) => number,
): LightSummary {
  const over = (some: readonly Pot[]) => (some.length > 0 ? evenness(some.map(ppfdOf)) : null);
  return {
    id,
    heightMm,
    source,
    evenness: over(pots),
    withoutGuards: over(pots.filter((pot) => !pot.guard)),
  };
}

/**
 * PPFD (µmol m⁻² s⁻¹) and DLI (mol m⁻² d⁻¹) at the centre of every pot, on a level plane at the
 * canopy height that the light plan names, with summaries by tray and by shelf. A shelf whose lamps
 * cannot be made sense of is left out and named in `problems`.
 */
export function potLight(rack: Rack, lightPlan: LightPlan): PotLight {
  const pots = new Map<string, PotLightValue>();
  const trays = new Map<string, LightSummary>();
  const shelves = new Map<string, LightSummary>();
  const problems = new Map<string, string>();
  for (const shelf of rack.shelves) {
    const heightMm = canopyHeightMm(shelf, lightPlan.canopyAt);
    const byTray = shelf.trays.map((tray) => ({ tray, pots: potsOfTray(shelf, tray) }));
    const all = byTray.flatMap((entry) => entry.pots);
    let ppfd: Float64Array;
    try {
      ppfd = atPots(shelf, rack, heightMm, all);
    } catch (error) {
      problems.set(shelf.id, error instanceof Error ? error.message : String(error));
      continue;
    }
    const source: LightSource = 'estimated';
    all.forEach((pot, i) => {
      const ppfdUmol = ppfd[i] ?? 0;
      const dliMol = dli(ppfdUmol, lightPlan.photoperiodHours);
      pots.set(pot.id, { potId: pot.id, ppfdUmol, dliMol, source });
    });
    const ppfdOf = (pot: Pot) => pots.get(pot.id)?.ppfdUmol ?? 0;
    for (const entry of byTray) {
      trays.set(entry.tray.id, summary(entry.tray.id, heightMm, source, entry.pots, ppfdOf));
    }
    shelves.set(shelf.id, summary(shelf.id, heightMm, source, all, ppfdOf));
  }
  return { pots, trays, shelves, problems };
}

function atPots(shelf: Shelf, rack: Rack, heightMm: number, pots: readonly Pot[]): Float64Array {
  const points = pots.map((pot) => ({ xMm: pot.xMm, yMm: pot.yMm, zMm: heightMm }));
  return ppfdAtPoints(shelf, rack.lampKinds, points);
}
