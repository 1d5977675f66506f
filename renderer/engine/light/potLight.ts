import type { LightPlan } from '../../../shared-types/light';
import type { LampKind, Rack } from '../../../shared-types/rack';
import { baysOf, canopyHeightMm, potsOfTray, trayCanopyMm, type Pot } from '../geometry';
import type { Calibration, GroupScale } from './calibration';
import type { PointMm } from './sources/direct';
import { dli } from './dli';
import { bayHours, hoursOver, shelfAfter } from './hours';
import { RETURNED } from './around/keys';
import { outsideShares } from './around/outside';
import type { ShelfModel } from './model';
import { uncertaintyOf, type LightUncertainty } from './uncertainty';
import { evenness, type Evenness } from './evenness';
import { problemWords, type ProblemWords } from './problem';
import { shelfLight, type LightSource } from './shelfLight';
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
  calibrations: ReadonlyMap<string, Calibration>;
  /** Readings too strange to be believed, by shelf id: the shelf stays estimated. */
  withheld: ReadonlyMap<string, Calibration>;
  /** Ids of readings taken of other lamps or surfaces than are there now. */
  outdated: ReadonlySet<string>;
  /** Why a shelf's light cannot be computed, by shelf id. */
  problems: ReadonlyMap<string, ProblemWords>;
}

/** What the light at the pots rests on besides the rack. */
export type LightBasis = Pick<LightPlan, 'canopyAt' | 'photoperiodHours' | 'readings'> & {
  /** Days of the trial that lamps have burnt by then, for what they lose; absent: 0. */
  burntDays?: number;
};

export interface PotLightOptions {
  /** Whether reflected light is counted; it is unless switched off. */
  reflected?: boolean;
  /** Factors on the lamp groups in place of readings: see `shelfLight`. */
  scales?: readonly GroupScale[];
}

const atHeight = (pots: readonly Pot[], zMm: number): PointMm[] =>
  pots.map(({ xMm, yMm }) => ({ xMm, yMm, zMm }));

/**
 * PPFD (µmol m⁻² s⁻¹) and DLI (mol m⁻² d⁻¹) at the centre of every pot, on a level plane at the
 * canopy height that the light plan names (its tray's), with summaries by tray and by shelf. Meter readings
 * calibrate their shelf. A shelf whose light cannot be computed is left out and named in `problems`.
 */
export function potLight(
  rack: Rack,
  lightPlan: LightBasis,
  options: PotLightOptions = {},
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
  options: PotLightOptions = {},
): PotLight {
  try {
    return computedPotLight(shelf, lampKinds, lightPlan, options);
  } catch (error) {
    return { ...mergedPotLight([]), problems: new Map([[shelf.id, problemWords(error)]]) };
  }
}

function computedPotLight(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  lightPlan: LightBasis,
  { reflected = true, scales }: PotLightOptions,
): PotLight {
  const heightMm = canopyHeightMm(shelf, lightPlan.canopyAt);
  const rests = scales ? { scales } : { readings: lightPlan.readings };
  const worn = shelfAfter(shelf, lampKinds, lightPlan, lightPlan.burntDays ?? 0);
  const request = { heightMm, reflected, worn, ...rests };
  const light = shelfLight(shelf, lampKinds, request);
  const byTray = shelf.trays.map((tray) => ({ tray, pots: potsOfTray(shelf, tray) }));
  const all = byTray.flatMap((entry) => entry.pots);
  const heights = new Map(
    shelf.trays.map((tray) => [tray.id, trayCanopyMm(shelf, tray, lightPlan.canopyAt)]),
  );
  const points = byTray.flatMap(({ tray, pots: own }) =>
    atHeight(own, heights.get(tray.id) ?? heightMm),
  );
  const hoursAt = hoursOver(shelf, lightPlan);
  const ppfd = light.at(points);
  const plusMinus = uncertaintyOf(light, points);
  const besides = sentFrom(shelf, light.model, lightPlan).map(({ from, hours }) => ({
    hours,
    shares: outsideShares(light.model, points, from),
  }));
  const pots = new Map<string, PotLightValue>();
  all.forEach((pot, i) => {
    const ppfdUmol = real(ppfd, i);
    // Lamps of other shelves burn for hours of their own.
    const own = hoursAt(pot.xMm, pot.yMm);
    const theirs = besides.reduce((sum, { shares }) => sum + real(shares, i), 0);
    const dliMol = besides.reduce(
      (sum, { hours, shares }) => sum + dli(ppfdUmol * real(shares, i), hours),
      dli(ppfdUmol * (1 - theirs), own),
    );
    const plusMinusPercent = plusMinus.points[i] ?? null;
    pots.set(pot.id, { potId: pot.id, ppfdUmol, dliMol, source: light.source, plusMinusPercent });
  });
  const uncertainty = plusMinus.mean;
  const summary = (id: string, some: readonly Pot[]): LightSummary => {
    const over = (chosen: readonly Pot[]) =>
      chosen.length > 0 ? evenness(chosen.map((pot) => pots.get(pot.id)?.ppfdUmol ?? 0)) : null;
    const withoutGuards = over(some.filter((pot) => !pot.guard));
    return {
      ...{ id, heightMm: heights.get(id) ?? heightMm, source: light.source },
      ...{ evenness: over(some), withoutGuards, uncertainty },
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
    outdated: new Set(light.outdated),
    calibrations: new Map(light.calibration ? [[shelf.id, light.calibration]] : []),
    withheld: new Map(light.withheld ? [[shelf.id, light.withheld]] : []),
    problems: new Map(),
  };
}

/** What sends light from outside, with the hours that it burns: of a room's light the mean over its bays. */
function sentFrom(
  { others = [] }: ShelfInRoom,
  { beside, returned }: ShelfModel,
  lightPlan: LightBasis,
): { from: string; hours: number }[] {
  const bays = others.flatMap((other) => baysOf(other));
  const back = bays.reduce(
    (sum, bay) => sum + (returned?.from.get(bay.id) ?? 0) * bayHours(bay, lightPlan),
    0,
  );
  return [
    ...bays.flatMap((bay) =>
      beside.includes(bay.id) ? [{ from: bay.id, hours: bayHours(bay, lightPlan) }] : [],
    ),
    ...(returned ? [{ from: RETURNED, hours: back }] : []),
  ];
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
