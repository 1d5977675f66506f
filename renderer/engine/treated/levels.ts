import type { Assignment } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import type { Application, Factor, LevelSettings } from '../../../shared-types/trial/trial';
import { potsOfRack } from '../geometry';
import { zoneByTray, type TrialPot, type ZoneTrays } from '../trial';
import { unitIdOf } from '../trial/site/trialPot';

/** What carries the levels of a factor: each bay, each reservoir, each pot. */
export type Carrier = 'bay' | 'zone' | 'pot';

/** null: nothing on the rack changes. */
export const carrierOf: Record<Application, Carrier | null> = {
  light: 'bay',
  water: 'zone',
  medium: 'pot',
  plant: null,
  hand: 'pot',
};

/** The rack as drawn, as the draw and `where` treat it, or with every unit at one level. */
export type TreatedView =
  | { as: 'bare' }
  | { as: 'treated' }
  | { as: 'level'; factorId: string; levelId: string };

/** The level that stands on each carrier of a factor, by the carrier's id. */
export interface CarriedLevels {
  factor: Factor;
  carrier: Carrier;
  levelIds: ReadonlyMap<string, string>;
}

interface Placed extends Pick<Plan, 'rack' | 'flood'> {
  factors: readonly Factor[];
  assignments: readonly Assignment[];
}

/**
 * Which level each bay, reservoir or pot carries, factor by factor. A carrier on which levels are
 * mixed, or on which nothing stands that is in the trial, is left out: it stays as it is.
 */
export function carriedLevels(from: Placed, view: TreatedView): CarriedLevels[] {
  if (view.as === 'bare') return [];
  const pots = allPots(from.rack, from.flood?.zones ?? []);
  return from.factors.flatMap((factor): CarriedLevels[] => {
    const carrier = factor.appliedThrough === undefined ? null : carrierOf[factor.appliedThrough];
    if (carrier === null) return [];
    const placed = (levelOf: (pot: TrialPot) => string | undefined) => [
      { factor, carrier, levelIds: agreed(pots, carrier, levelOf) },
    ];
    if (view.as === 'level') {
      return view.factorId === factor.id ? placed(() => view.levelId) : [];
    }
    const levels = levelsByPot(factor, pots, from.assignments);
    return placed((pot) => levels.get(pot.id));
  });
}

/** Every pot, guard pots too: they stand under the same lamps and in the same water. */
function allPots(rack: Rack, zones: readonly ZoneTrays[]): TrialPot[] {
  const zoneOf = zoneByTray(zones);
  return potsOfRack(rack).map((pot) => ({ ...pot, zoneId: zoneOf.get(pot.trayId)?.id ?? '' }));
}

/** Level of each pot that has one; a guard pot has that of its unit. */
function levelsByPot(
  factor: Factor,
  pots: readonly TrialPot[],
  assignments: readonly Assignment[],
): ReadonlyMap<string, string> {
  const drawn = new Map(
    assignments.flatMap(({ potId, levels }) => {
      const level = levels[factor.id];
      return level === undefined ? [] : [[potId, level] as const];
    }),
  );
  const fixed = new Map(factor.where.map(({ unitId, levelId }) => [unitId, levelId]));
  const said = (pot: TrialPot) =>
    drawn.get(pot.id) ??
    (factor.kind === 'fixed' ? fixed.get(unitIdOf(pot, factor.unit)) : undefined);
  switch (factor.unit) {
    case 'row-strip':
    case 'column-strip':
    case 'pot':
      return withLevel(pots, said);
    case 'shelf':
    case 'zone':
    case 'bay':
    case 'tray': {
      const byUnit = agreedBy(pots, (pot) => unitIdOf(pot, factor.unit), said);
      return withLevel(pots, (pot) => said(pot) ?? byUnit.get(unitIdOf(pot, factor.unit)));
    }
  }
}

function withLevel(
  pots: readonly TrialPot[],
  levelOf: (pot: TrialPot) => string | undefined,
): ReadonlyMap<string, string> {
  return new Map(
    pots.flatMap((pot) => {
      const level = levelOf(pot);
      return level === undefined ? [] : [[pot.id, level] as const];
    }),
  );
}

function agreed(
  pots: readonly TrialPot[],
  carrier: Carrier,
  levelOf: (pot: TrialPot) => string | undefined,
): ReadonlyMap<string, string> {
  const idOf = (pot: TrialPot) => (carrier === 'pot' ? pot.id : unitIdOf(pot, carrier));
  return agreedBy(pots, idOf, levelOf);
}

/** The one level of all pots of a group that have one. */
function agreedBy(
  pots: readonly TrialPot[],
  groupOf: (pot: TrialPot) => string,
  levelOf: (pot: TrialPot) => string | undefined,
): ReadonlyMap<string, string> {
  const found = new Map<string, string | null>();
  for (const pot of pots) {
    const level = levelOf(pot);
    const group = groupOf(pot);
    if (level === undefined || group === '') continue;
    const known = found.get(group);
    found.set(group, known === undefined || known === level ? level : null);
  }
  return new Map([...found].flatMap(([id, level]) => (level === null ? [] : [[id, level]])));
}

type SettingsOf<T extends Application> = Extract<LevelSettings, { through: T }>;

/** What the levels on a carrier set, of one kind; a factor further down the list has the last word. */
export function settingsAt<T extends LevelSettings['through']>(
  carried: readonly CarriedLevels[],
  through: T,
  carrierId: string,
): SettingsOf<T> | null {
  const found: SettingsOf<T>[] = [];
  for (const { factor, levelIds } of carried) {
    if (factor.appliedThrough !== through) continue;
    const level = factor.levels.find(({ id }) => id === levelIds.get(carrierId));
    const settings = level?.settings;
    if (settings && isOf(settings, through)) found.push(settings);
  }
  const [first, ...later] = found;
  return first ? Object.assign({}, first, ...later) : null;
}

function isOf<T extends LevelSettings['through']>(
  settings: LevelSettings,
  through: T,
): settings is SettingsOf<T> {
  return settings.through === through;
}
