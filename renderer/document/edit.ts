import { produce } from 'immer';
import { baysOf, findBoard, findLamp, findShelf, findTray } from '../engine/geometry';
import type { Plan } from '../../shared-types/plan';
import {
  sides,
  type Board,
  type Lamp,
  type LampKind,
  type PotGrid,
  type Shelf,
  type Tray,
} from '../../shared-types/rack';
import type { Factor, Level, Trial } from '../../shared-types/trial/trial';
import type { Measurement } from '../../shared-types/trial/measurement';
import type { Layout } from '../../shared-types/layout';
import { Refusal } from './command';
import { potTest } from './potsInRack';
import { forgetTraysInRota } from './rota';

/** Changes a copy of the plan; parts that the recipe leaves alone stay the same objects. */
export function change(plan: Plan, recipe: (draft: Plan) => void): Plan {
  return produce(plan, (draft) => {
    recipe(draft);
  });
}

function must<T>(value: T | null | undefined, refusal: string): T {
  if (value === null || value === undefined) throw new Refusal(refusal);
  return value;
}

// Each of these throws a Refusal where the plan holds no such thing.

export function shelfIn(plan: Plan, id: string): Shelf {
  return must(findShelf(plan.rack, id), `The rack has no shelf with the id ${id}.`);
}

export function trayIn(plan: Plan, id: string): { shelf: Shelf; tray: Tray } {
  return must(findTray(plan.rack, id), `The rack has no tray with the id ${id}.`);
}

export function gridIn(plan: Plan, trayId: string): PotGrid {
  const { shelf, tray } = trayIn(plan, trayId);
  return must(tray.grid, `Tray ${shelf.number}${tray.letter} holds no pots.`);
}

export function lampIn(plan: Plan, id: string): { shelf: Shelf; lamp: Lamp } {
  return must(findLamp(plan.rack, id), `The rack has no lamp with the id ${id}.`);
}

export function boardIn(plan: Plan, id: string): { shelf: Shelf; board: Board } {
  return must(findBoard(plan.rack, id), `The rack has no board with the id ${id}.`);
}

export function lampKindIn(plan: Plan, id: string): LampKind {
  const kind = plan.rack.lampKinds.find((k) => k.id === id);
  return must(kind, `The plan has no lamp kind with the id ${id}.`);
}

export function trialIn(plan: Plan): Trial {
  return must(plan.trial, 'The plan has no trial yet; start one first.');
}

export function factorIn(plan: Plan, id: string): Factor {
  const factor = trialIn(plan).factors.find((f) => f.id === id);
  return must(factor, `The trial has no factor with the id ${id}.`);
}

export function levelIn(factor: Factor, id: string): Factor['levels'][number] {
  const level = factor.levels.find((l) => l.id === id);
  return must(level, `The factor ${factor.name} has no level with the id ${id}.`);
}

/** The first level of any factor of which something holds. */
export function levelThat(plan: Plan, holds: (level: Level) => boolean): Level | undefined {
  return plan.trial?.factors.flatMap((factor) => factor.levels).find(holds);
}

export function measurementIn(plan: Plan, id: string): Measurement {
  const measurement = trialIn(plan).measurements.find((m) => m.id === id);
  return must(measurement, `The trial has no measurement with the id ${id}.`);
}

export function layoutIn(plan: Plan): Layout {
  return must(plan.layout, 'No layout has been drawn yet.');
}

/** Refuses ids under which no pot stands. */
export function checkPots(plan: Plan, potIds: readonly string[]): void {
  const isPot = potTest(plan.rack);
  const stranger = potIds.find((id) => !isPot(id));
  if (stranger !== undefined) throw new Refusal(`No pot stands at ${stranger}.`);
}

/** Figures of the rack are kept to a tenth of a millimetre, as they are shown. */
export function tenth(mm: number): number {
  return Math.round(mm * 10) / 10;
}

/** Removes the first entry with an id from a list of the caller's own draft. */
export function removeById(list: { id: string }[], id: string): void {
  const at = list.findIndex((item) => item.id === id);
  if (at >= 0) list.splice(at, 1);
}

/** Moves an entry within a list of the caller's own draft; positions count from 0. */
export function moveTo<T>(list: T[], from: number, to: number): void {
  const [item] = list.splice(from, 1);
  if (item !== undefined) list.splice(Math.min(Math.max(to, 0), list.length), 0, item);
}

/** A side that faced a shelf which is gone looks into a dark room. */
export function faceNoneThatIsGone(
  faces: NonNullable<Shelf['faces']>,
  there: ReadonlySet<string>,
): void {
  for (const side of sides) {
    const facing = faces[side];
    if (facing?.kind === 'shelf' && !there.has(facing.shelfId)) faces[side] = { kind: 'dark' };
  }
}

/**
 * Takes everything out of a draft that speaks of shelves, trays or pots which are no longer there:
 * meter readings, tray moves, flood zones, circuits, places of given factors. Records stay (see
 * lock.ts), and a drawn layout stays, so that its notice can say what changed.
 */
export function forgetWhatIsGone(draft: Plan): void {
  const isPot = potTest(draft.rack);
  const shelves = new Set(draft.rack.shelves.map((shelf) => shelf.id));
  const trays = new Set(draft.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  for (const { faces } of draft.rack.shelves) if (faces) faceNoneThatIsGone(faces, shelves);
  const keep = <T>(list: T[], stays: (item: T) => boolean) =>
    list.every(stays) ? list : list.filter(stays);

  draft.light.readings = keep(draft.light.readings, (reading) => shelves.has(reading.shelfId));
  if (draft.light.rota) forgetTraysInRota(draft.light.rota, trays);
  if (draft.flood) {
    for (const group of [...draft.flood.zones, ...draft.flood.media]) {
      group.trayIds = keep(group.trayIds, (id) => trays.has(id));
    }
    draft.flood.slopes = keep(draft.flood.slopes, (slope) => trays.has(slope.trayId));
    for (const circuit of draft.flood.circuits) {
      circuit.shelfIds = keep(circuit.shelfIds, (id) => shelves.has(id));
    }
  }
  const zones = new Set((draft.flood?.zones ?? []).map((zone) => zone.id));
  const bays = new Set(draft.rack.shelves.flatMap((shelf) => baysOf(shelf).map((bay) => bay.id)));
  for (const factor of draft.trial?.factors ?? []) {
    const exists = {
      shelf: (id: string) => shelves.has(id),
      zone: (id: string) => zones.has(id),
      bay: (id: string) => bays.has(id),
      tray: (id: string) => trays.has(id),
      // Strips carry no given levels.
      'row-strip': () => false,
      'column-strip': () => false,
      pot: isPot,
    };
    factor.where = keep(factor.where, (place) => exists[factor.unit](place.unitId));
  }
}
