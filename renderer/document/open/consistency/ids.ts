import type { Plan } from '../../../../shared-types/plan';
import { changedKeys } from '../../changedKeys';
import { idNumber } from '../../ids';
import { sayPath } from '../words';
import { contradict, type Check, type Path } from './contradiction';

/** Every permanent id that the plan defines, with the path of the thing that carries it. */
function* definedIds(plan: Plan): Generator<{ id: string; path: Path }> {
  for (const [s, shelf] of plan.rack.shelves.entries()) {
    const at = ['rack', 'shelves', s];
    yield { id: shelf.id, path: at };
    for (const [t, tray] of shelf.trays.entries()) yield { id: tray.id, path: [...at, 'trays', t] };
    for (const [l, lamp] of shelf.lamps.entries()) yield { id: lamp.id, path: [...at, 'lamps', l] };
    for (const [b, board] of (shelf.boards ?? []).entries()) {
      yield { id: board.id, path: [...at, 'boards', b] };
    }
    for (const [b, bay] of (shelf.bays ?? []).entries()) {
      yield { id: bay.id, path: [...at, 'bays', b] };
    }
  }
  const lists: [Path, readonly { id: string }[]][] = [
    [['rack', 'lampKinds'], plan.rack.lampKinds],
    [['light', 'readings'], plan.light.readings],
    [['records', 'incidents'], plan.records.incidents],
    [['flood', 'zones'], plan.flood?.zones ?? []],
    [['flood', 'media'], plan.flood?.media ?? []],
    [['flood', 'circuits'], plan.flood?.circuits ?? []],
    [['trial', 'factors'], plan.trial?.factors ?? []],
    [['trial', 'measurements'], plan.trial?.measurements ?? []],
  ];
  for (const [path, list] of lists) {
    for (const [i, item] of list.entries()) yield { id: item.id, path: [...path, i] };
  }
  for (const [f, factor] of (plan.trial?.factors ?? []).entries()) {
    for (const [l, level] of factor.levels.entries()) {
      yield { id: level.id, path: ['trial', 'factors', f, 'levels', l] };
    }
  }
}

/**
 * Ids that outlive what they name: pots that hold values or were drawn once. Without those that
 * stand in the same lists of a plan that is known to be sound.
 */
function* rememberedIds({ records, layout }: Plan, sound?: Plan): Generator<string> {
  for (const list of ['values', 'second'] as const) {
    for (const [id, byPot] of Object.entries(records[list])) {
      yield* changedKeys(sound?.records[list][id] ?? NONE, byPot);
    }
  }
  if (records.marks !== sound?.records.marks) yield* Object.keys(records.marks);
  yield* Object.keys(records.secondMarks ?? {});
  for (const byPot of Object.values(records.days ?? {})) yield* Object.keys(byPot);
  yield* Object.keys(records.notes ?? {});
  yield* Object.keys(records.delivered ?? {});
  if (records.trail !== sound?.records.trail) {
    const { replaced = [], marks = [], notes = [] } = records.trail ?? {};
    for (const { potId } of [...replaced, ...marks, ...notes]) yield potId;
  }
  if (layout === sound?.layout) return;
  for (const assignment of layout?.assignments ?? []) yield assignment.potId;
}

const NONE = Object.freeze({});

/** The lowest number that the plan's counter may stand at. */
export function lowestNextId(plan: Plan, sound?: Plan): number {
  // The counter of a sound plan stands above all that is in it, so it stands for what is skipped.
  let used = sound ? sound.nextId - 1 : 0;
  for (const { id } of definedIds(plan)) used = Math.max(used, idNumber(id));
  for (const id of rememberedIds(plan, sound)) used = Math.max(used, idNumber(id));
  return used + 1;
}

export const idsAreUnique: Check = (plan, sound) => {
  const seen = new Map<string, Path>();
  for (const { id, path } of definedIds(plan)) {
    const other = seen.get(id);
    if (other) {
      return contradict(
        [...path, 'id'],
        `"${id}", the id of ${sayPath(other)}`,
        'an id of its own',
      );
    }
    seen.set(id, path);
  }
  const lowest = lowestNextId(plan, sound);
  if (plan.nextId >= lowest) return null;
  return contradict(
    ['nextId'],
    String(plan.nextId),
    `at least ${lowest}, above every number in use`,
  );
};
