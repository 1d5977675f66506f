import type { LampKind, Rack } from '../../../shared-types/rack';
import { baysOf, canopyHeightMm, potsOfTray, trayCanopyMm, type Pot } from '../geometry';
import type { ReadingsFound } from './calibration';
import type { LightUncertainty } from './uncertainty';
import { evenness, type Evenness } from './evenness';
import type { ProblemWords } from './problem';
import {
  shelfFigures,
  type FiguresOptions,
  type LightBasis,
  type ShelfFigures,
} from './shelfFigures';
import type { LightSource } from './shelfLight';
import { shelvesInRoom, type ShelfInRoom } from '../lamps';
import { real } from '../entry';

export interface PotLightValue {
  potId: string;
  ppfdUmol: number;
  dliMol: number;
  source: LightSource;
  /** Half the interval that holds the truth at this pot 95 times of 100, in %; null: not known. */
  plusMinusPercent: number | null;
}

/** The light of one tray, shelf or bay, judged at its pots. */
export interface LightSummary {
  /** The tray's, shelf's or bay's id. */
  id: string;
  /** Of the canopy: a tray's own, of a shelf or bay the mean over the shelf's trays. */
  heightMm: number;
  source: LightSource;
  /** PPFD over all pots; null where there are none. */
  evenness: Evenness | null;
  /** PPFD over the pots that are not guard pots. */
  withoutGuards: Evenness | null;
  /** How far the shelf's mean may be off. */
  uncertainty: LightUncertainty;
}

export interface PotLight {
  /** By pot id. Pots of a shelf whose light cannot be computed are absent. */
  pots: ReadonlyMap<string, PotLightValue>;
  trays: ReadonlyMap<string, LightSummary>;
  shelves: ReadonlyMap<string, LightSummary>;
  /** By bay id. */
  bays: ReadonlyMap<string, LightSummary>;
  /** How readings were used, by shelf id; only shelves with usable readings are there. */
  calibrations: ReadonlyMap<string, ReadingsFound>;
  /** Readings too strange to be believed, by shelf id: the shelf stays estimated. */
  withheld: ReadonlyMap<string, ReadingsFound>;
  /** Ids of readings taken of other lamps or surfaces than are there now. */
  outdated: ReadonlySet<string>;
  /** Why a shelf's light cannot be computed, by shelf id. */
  problems: ReadonlyMap<string, ProblemWords>;
}

/**
 * PPFD (µmol m⁻² s⁻¹) and DLI (mol m⁻² d⁻¹) at the centre of every pot, on a level plane at the
 * canopy height that the light plan names (its tray's), with summaries by tray and by shelf. Meter readings
 * calibrate their shelf. A shelf whose light cannot be computed is left out and named in `problems`.
 */
export function potLight(
  rack: Rack,
  lightPlan: LightBasis,
  options: FiguresOptions = {},
): PotLight {
  return mergedPotLight(
    shelvesInRoom(rack).map((shelf) => shelfPotLight(shelf, rack.lampKinds, lightPlan, options)),
  );
}

/** The same for one shelf, so that a change to one shelf need not touch the others. */
export function shelfPotLight(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  lightPlan: LightBasis,
  options: FiguresOptions = {},
): PotLight {
  return namedPotLight(shelf, lightPlan, shelfFigures(shelf, lampKinds, lightPlan, options));
}

/** The figures of a shelf by its pots, trays and bays, with their summaries. */
export function namedPotLight(
  shelf: ShelfInRoom,
  { canopyAt }: Pick<LightBasis, 'canopyAt'>,
  figures: ShelfFigures,
): PotLight {
  if (!figures.ok) {
    const { problem } = figures;
    return {
      ...mergedPotLight([]),
      problems: new Map([[shelf.id, (lengths) => problem[lengths]]]),
    };
  }
  const { source, mean } = figures;
  const heightMm = canopyHeightMm(shelf, canopyAt);
  const byTray = shelf.trays.map((tray) => ({ tray, pots: potsOfTray(shelf, tray) }));
  const all = byTray.flatMap((one) => one.pots);
  const heights = new Map(
    shelf.trays.map((tray) => [tray.id, trayCanopyMm(shelf, tray, canopyAt)]),
  );
  const pots = new Map<string, PotLightValue>();
  all.forEach((pot, i) => {
    const [ppfdUmol, dliMol] = [real(figures.ppfdUmol, i), real(figures.dliMol, i)];
    const plusMinusPercent = figures.plusMinusPercent[i] ?? null;
    pots.set(pot.id, { potId: pot.id, ppfdUmol, dliMol, source, plusMinusPercent });
  });
  const uncertainty: LightUncertainty = {
    plusMinusPercent: mean.plusMinusPercent,
    reason: (lengths) => mean.reason[lengths],
  };
  const summary = (id: string, some: readonly Pot[]): LightSummary => {
    const over = (chosen: readonly Pot[]) =>
      chosen.length > 0 ? evenness(chosen.map((pot) => pots.get(pot.id)?.ppfdUmol ?? 0)) : null;
    const withoutGuards = over(some.filter((pot) => !pot.guard));
    return {
      id,
      heightMm: heights.get(id) ?? heightMm,
      source,
      evenness: over(some),
      withoutGuards,
      uncertainty,
    };
  };
  return {
    pots,
    trays: new Map(byTray.map(({ tray, pots: own }) => [tray.id, summary(tray.id, own)])),
    shelves: new Map([[shelf.id, summary(shelf.id, all)]]),
    bays: new Map(
      baysOf(shelf).map(({ id }) => [
        id,
        summary(
          id,
          all.filter((pot) => pot.bayId === id),
        ),
      ]),
    ),
    outdated: new Set(figures.outdated),
    calibrations: new Map(figures.calibration ? [[shelf.id, figures.calibration]] : []),
    withheld: new Map(figures.withheld ? [[shelf.id, figures.withheld]] : []),
    problems: new Map(),
  };
}

/** Several shelves' light as one. */
export function mergedPotLight(parts: readonly PotLight[]): PotLight {
  return {
    pots: new Map(parts.flatMap((part) => [...part.pots])),
    trays: new Map(parts.flatMap((part) => [...part.trays])),
    shelves: new Map(parts.flatMap((part) => [...part.shelves])),
    bays: new Map(parts.flatMap((part) => [...part.bays])),
    outdated: new Set(parts.flatMap((part) => [...part.outdated])),
    calibrations: new Map(parts.flatMap((part) => [...part.calibrations])),
    withheld: new Map(parts.flatMap((part) => [...part.withheld])),
    problems: new Map(parts.flatMap((part) => [...part.problems])),
  };
}
