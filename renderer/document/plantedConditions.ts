import type { Plan } from '../../shared-types/plan';
import { sides, type Facing, type Shelf } from '../../shared-types/rack';
import { facedShelves, shelvesBeside, trayCode } from '../engine/geometry';
import { Refusal } from './command';
import { same } from './layoutChange';
import { parseRef, refTo } from './queries/refs';
import { list } from '../words';

/** A refusal that a correction with a date and a reason gets past. */
export class PlantedRefusal extends Refusal {}

/** Something that the plants of a planted layout grow under, by what is done to them. */
interface Condition {
  /** Under which it stands in the log. */
  ref: string;
  words: string;
  /** What must stay; names, and what is only known better, may change. */
  value: unknown;
}

/** Throws where an edit changes what planted plants grow under, unless the log tells of it. */
export function checkConditions(before: Plan, after: Plan): void {
  const since = before.layout?.plantedAt;
  if (since === null || since === undefined) return;
  const changed = changedConditions(before, after);
  if (changed.length === 0) return;
  const entries = after.records.incidents.slice(before.records.incidents.length);
  const told = new Set(entries.flatMap(({ kept, about }) => (kept ? about : [])));
  if (changed.every(({ ref }) => told.has(ref))) return;
  throw new PlantedRefusal(
    `Planted since ${since}, so ${list(firstOf(changed))} ${changed.length === 1 ? 'stays' : 'stay'} as then. Correct it with a date and a reason if it has changed at the rack.`,
  );
}

const MOST_NAMED = 3;

/** The first few by name, and how many more there are. */
function firstOf(changed: readonly Condition[]): string[] {
  const words = changed.map((one) => one.words);
  const more = words.length - MOST_NAMED;
  return more > 1 ? [...words.slice(0, MOST_NAMED), `${more} more`] : words;
}

/** What an edit changes of all that the planted plants grow under. */
export function changedConditions(before: Plan, after: Plan): Condition[] {
  const parts = ['rack', 'flood', 'light', 'trial'] as const;
  if (!before.layout || parts.every((part) => before[part] === after[part])) return [];
  const planted = plantedIn(before);
  const is = new Map(conditionsOf(after, planted).map((one) => [one.ref, one.value]));
  return conditionsOf(before, planted).filter(({ ref, value }) => !same(value, is.get(ref)));
}

interface Planted {
  trays: ReadonlySet<string>;
  shelves: ReadonlySet<string>;
}

function plantedIn({ rack, layout }: Plan): Planted {
  const pots = layout?.assignments.map(({ potId }) => parseRef(`tray:${potId}`)?.id) ?? [];
  const trays = new Set(pots.flatMap((id) => id?.split(':')[0] ?? []));
  const shelves = rack.shelves.filter((shelf) => shelf.trays.some(({ id }) => trays.has(id)));
  // Lamps of a shelf that a planted one faces light its plants too.
  const faced = shelves.flatMap((shelf) => facedShelves(shelf, rack.shelves));
  return { trays, shelves: new Set([...shelves.map(({ id }) => id), ...faced]) };
}

function conditionsOf({ rack, flood, light, trial }: Plan, planted: Planted): Condition[] {
  const zones = (flood?.zones ?? []).filter(({ trayIds }) =>
    trayIds.some((id) => planted.trays.has(id)),
  );
  return [
    ...rack.shelves
      .filter(({ id }) => planted.shelves.has(id))
      .map((shelf) => ({
        ref: refTo('shelf', shelf.id),
        words: `what hangs and stands over shelf ${shelf.number}`,
        value: overShelf(shelf, rack.shelves),
      })),
    { ref: 'plan', words: 'the hours of light', value: light.photoperiodHours },
    ...zones.map(({ id, name, trayIds, floodDepthMm, schedule }) => ({
      ref: refTo('zone', id),
      words: `the flooding of ${name}`,
      value: [trayIds, floodDepthMm, schedule],
    })),
    ...mediaOf(rack.shelves, flood, planted),
    ...(trial?.factors ?? []).map(({ id, name, levels }) => ({
      ref: refTo('factor', id),
      words: `what the levels of ${name} set`,
      value: levels.map((level) => [level.id, level.settings ?? null]),
    })),
  ];
}

/** Lamps as they hang, boards, timers and what its sides face; not what is known of their light. */
function overShelf(shelf: Shelf, shelves: readonly Shelf[]): unknown {
  const { lamps, boards = [], bays = [], faces } = shelf;
  const hung = lamps.map(({ kindId, xMm, yMm, zMm, rotationDeg, tiltDeg, dimming }) =>
    [kindId, xMm, yMm, zMm, rotationDeg, tiltDeg, dimming].join(' '),
  );
  const hours = bays.map((bay) => bay.photoperiodHours ?? null);
  const beside = sides.map((side) => standsBeside(faces?.[side] ?? { kind: 'matt' }));
  const found = shelvesBeside(shelf, shelves).filter((neighbour) => neighbour.found);
  const standing = found.map(({ side, shelfId, gapMm }) => `${side} ${shelfId} ${gapMm}`);
  return [hung.sort(), boards, hours, beside, ...standing];
}

/** What stands there and how far off; how much light it gives back may be known better. */
function standsBeside(facing: Facing): string {
  switch (facing.kind) {
    case 'matt':
    case 'foil':
    case 'dark':
    case 'lit':
      return facing.kind;
    case 'wall':
      return `${facing.kind} ${facing.distanceMm}`;
    case 'shelf':
      return `${facing.kind} ${facing.shelfId} ${facing.gapMm}`;
    default:
      return facing satisfies never;
  }
}

function mediaOf(shelves: readonly Shelf[], flood: Plan['flood'], { trays }: Planted): Condition[] {
  return shelves.flatMap(({ number, trays: all }) =>
    all
      .filter(({ id }) => trays.has(id))
      .map(({ id, letter }) => ({
        ref: refTo('tray', id),
        words: `the medium of tray ${trayCode(number, letter)}`,
        value: flood?.media.find(({ trayIds }) => trayIds.includes(id))?.id ?? null,
      })),
  );
}
