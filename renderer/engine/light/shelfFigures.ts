import type { LightPlan } from '../../../shared-types/light';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { entry, real } from '../entry';
import { baysOf, canopyHeightMm, potsOfTray, trayCanopyMm } from '../geometry';
import { spokenLocale, type UnitSystem } from '../../words';
import type { ShelfInRoom } from '../lamps';
import { RETURNED } from './around/keys';
import { outsideShares } from './around/outside';
import { standInOf } from './around/sameLight';
import { foundBy, type GroupScale, type ReadingsFound } from './calibration';
import { dli } from './dli';
import { bayHours, hoursOver, shelfAfter } from './hours';
import type { ShelfModel } from './model';
import { problemWords } from './problem';
import { shelfLight, type LightSource } from './shelfLight';
import type { PointMm } from './sources/direct';
import { uncertaintyOf } from './uncertainty';

/** What the light at the pots rests on besides the rack. */
export type LightBasis = Pick<LightPlan, 'canopyAt' | 'photoperiodHours' | 'readings'> & {
  /** Days of the trial that lamps have burnt by then, for what they lose; absent: 0. */
  burntDays?: number;
};

/** A sentence with lengths in either units. */
export type InUnits = Readonly<Record<UnitSystem, string>>;

/** The light at the pots of one shelf, tray by tray, in their order: plain data, fit to be sent. */
export interface LitPots {
  ok: true;
  source: LightSource;
  ppfdUmol: Float64Array;
  dliMol: Float64Array;
  plusMinusPercent: (number | null)[];
  /** Of the shelf's mean. */
  mean: { plusMinusPercent: number | null; reason: InUnits };
  calibration: ReadingsFound | null;
  withheld: ReadingsFound | null;
  outdated: readonly string[];
}

/** The same, or why there is none. */
export type ShelfFigures = LitPots | { ok: false; problem: InUnits };

export interface FiguresOptions {
  /** Whether reflected light is counted; it is unless switched off. */
  reflected?: boolean;
  /** Factors on the lamp groups in place of readings: see `shelfLight`. */
  scales?: readonly GroupScale[];
}

const inUnits = (words: (lengths: UnitSystem) => string): InUnits => ({
  metric: words('metric'),
  imperial: words('imperial'),
});

/** The light at the pots of a shelf, or why it cannot be computed. */
export function shelfFigures(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  lightPlan: LightBasis,
  options: FiguresOptions = {},
): ShelfFigures {
  try {
    const key = sameFiguresKey(shelf, lightPlan, options);
    return key === null
      ? litPots(shelf, lampKinds, lightPlan, options)
      : kept(lampKinds, key, () => litPots(shelf, lampKinds, lightPlan, options));
  } catch (error) {
    return { ok: false, problem: inUnits(problemWords(error)) };
  }
}

/**
 * What the light at a shelf's pots depends on, so that shelves that are alike in all of it have the
 * same; null where it has readings or scales of its own, or is lit otherwise than drawn.
 */
export function sameFiguresKey(
  shelf: ShelfInRoom,
  { canopyAt, photoperiodHours, burntDays, readings }: LightBasis,
  { reflected, scales }: FiguresOptions = {},
): string | null {
  if (scales || shelf.drawn || readings.some(({ shelfId }) => shelfId === shelf.id)) return null;
  const { key } = standInOf(shelf);
  if (key === null) return null;
  const hours = [shelf, ...(shelf.others ?? [])].map((one) =>
    baysOf(one).map((bay) => bay.photoperiodHours),
  );
  const trays = shelf.trays.map(({ id: _, letter: __, ...tray }) => tray);
  const rests = [canopyAt, photoperiodHours, burntDays ?? 0, reflected ?? true, spokenLocale()];
  return JSON.stringify([key, trays, hours, rests]);
}

const known = new WeakMap<readonly LampKind[], Map<string, LitPots>>();
const MOST_KEPT = 60;

function kept(lampKinds: readonly LampKind[], key: string, make: () => LitPots): LitPots {
  const of = known.get(lampKinds) ?? new Map<string, LitPots>();
  known.set(lampKinds, of);
  const found = of.get(key) ?? make();
  // The one that was asked for last stays longest.
  of.delete(key);
  of.set(key, found);
  const [oldest] = of.keys();
  if (of.size > MOST_KEPT && oldest !== undefined) of.delete(oldest);
  return found;
}

function litPots(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  lightPlan: LightBasis,
  { reflected = true, scales }: FiguresOptions,
): LitPots {
  const heightMm = canopyHeightMm(shelf, lightPlan.canopyAt);
  const rests = scales ? { scales } : { readings: lightPlan.readings };
  const worn = shelfAfter(shelf, lampKinds, lightPlan, lightPlan.burntDays ?? 0);
  const light = shelfLight(shelf, lampKinds, { heightMm, reflected, worn, ...rests });
  const points = shelf.trays.flatMap((tray) => potPoints(shelf, tray, lightPlan.canopyAt));
  const hoursAt = hoursOver(shelf, lightPlan);
  const ppfdUmol = light.at(points);
  const plusMinus = uncertaintyOf(light, points);
  const besides = sentFrom(shelf, light.model, lightPlan).map(({ from, hours }) => ({
    hours,
    shares: outsideShares(light.model, points, from),
  }));
  const dliMol = ppfdUmol.map((ppfd, i) => {
    const { xMm, yMm } = entry(points, i);
    // Lamps of other shelves burn for hours of their own.
    const own = hoursAt(xMm, yMm);
    const theirs = besides.reduce((sum, { shares }) => sum + real(shares, i), 0);
    return besides.reduce(
      (sum, { hours, shares }) => sum + dli(ppfd * real(shares, i), hours),
      dli(ppfd * (1 - theirs), own),
    );
  });
  const { plusMinusPercent, reason } = plusMinus.mean;
  return {
    ok: true,
    source: light.source,
    ppfdUmol,
    dliMol,
    plusMinusPercent: plusMinus.points,
    mean: { plusMinusPercent, reason: inUnits(reason) },
    calibration: light.calibration && foundBy(light.calibration),
    withheld: light.withheld && foundBy(light.withheld),
    outdated: light.outdated,
  };
}

const potPoints = (
  shelf: Shelf,
  tray: Shelf['trays'][number],
  at: LightBasis['canopyAt'],
): PointMm[] => {
  const zMm = trayCanopyMm(shelf, tray, at);
  return potsOfTray(shelf, tray).map(({ xMm, yMm }) => ({ xMm, yMm, zMm }));
};

/**
 * What sends light from outside for other hours, with these: of a room's light the mean over its bays.
 */
function sentFrom(
  shelf: ShelfInRoom,
  { beside, returned }: ShelfModel,
  lightPlan: LightBasis,
): { from: string; hours: number }[] {
  const { others = [] } = shelf;
  const bays = others.flatMap((other) => baysOf(other));
  // Where all lamps burn for as long, it is one whence light comes.
  const hours = new Set([...baysOf(shelf), ...bays].map((bay) => bayHours(bay, lightPlan)));
  if (hours.size === 1) return [];
  const shares = returned?.from();
  const back = bays.reduce(
    (sum, bay) => sum + (shares?.get(bay.id) ?? 0) * bayHours(bay, lightPlan),
    0,
  );
  return [
    ...bays.flatMap((bay) =>
      beside.includes(bay.id) ? [{ from: bay.id, hours: bayHours(bay, lightPlan) }] : [],
    ),
    ...(returned ? [{ from: RETURNED, hours: back }] : []),
  ];
}
