import { changedKeys } from '../../changedKeys';
import { potTest } from '../../potsInRack';
import { sayFound } from '../words';
import type { Plan } from '../../../../shared-types/plan';
import { contradict, type Check, type Contradiction } from './contradiction';

export const layoutFitsTrial: Check = (plan) => {
  const { layout, trial } = plan;
  if (!layout) return null;
  if (!trial) return contradict(['layout'], 'a drawn layout', 'null, because there is no trial');
  const levelsOf = new Map(trial.factors.map((f) => [f.id, new Set(f.levels.map((l) => l.id))]));
  const isPot = potTest(plan.rack);
  const drawn = new Set<string>();
  for (const [a, { potId, levels }] of layout.assignments.entries()) {
    const at = ['layout', 'assignments', a];
    if (drawn.has(potId))
      return contradict([...at, 'potId'], `"${potId}" once more`, 'every pot once');
    drawn.add(potId);
    // Before planting a layout may lag behind the rack; then a notice asks for another draw.
    if (layout.plantedAt !== null && !isPot(potId)) {
      return contradict(
        [...at, 'potId'],
        sayFound(potId),
        'a pot of the rack, because it is planted',
      );
    }
    for (const [factorId, levelId] of Object.entries(levels)) {
      const known = levelsOf.get(factorId);
      if (!known) {
        return contradict(
          [...at, 'levels'],
          `a level of the factor "${factorId}"`,
          'only factors of the trial',
        );
      }
      if (!known.has(levelId)) {
        const path = [...at, 'levels', factorId];
        return contradict(path, sayFound(levelId), "the id of one of the factor's levels");
      }
    }
    if (layout.plantedAt === null) continue;
    const lacking = trial.factors.find((factor) => levels[factor.id] === undefined);
    if (lacking) {
      const wanted = `a level of "${lacking.name}", because it is planted`;
      return contradict([...at, 'levels', lacking.id], 'nothing', wanted);
    }
  }
  return null;
};

export const plantsFitTrial: Check = (plan) => {
  const codes = new Set<string>();
  const factors = new Map(plan.trial?.factors.map((factor) => [factor.id, factor]));
  for (const [p, { code, levels = {} }] of (plan.plants ?? []).entries()) {
    const key = code.toLowerCase();
    if (codes.has(key))
      return contradict(['plants', p, 'code'], sayFound(code), 'every plant once');
    codes.add(key);
    for (const [factorId, levelId] of Object.entries(levels)) {
      const known = factors.get(factorId)?.levels.some((level) => level.id === levelId);
      if (known) continue;
      const path = ['plants', p, 'levels', factorId];
      return contradict(path, sayFound(levelId), 'a level of one of the factors of the trial');
    }
  }
  return null;
};

export const recordsFitTrial: Check = (plan, sound) => {
  const known = new Set(plan.trial?.measurements.map((m) => m.id));
  const lists = { values: 'values', second: 'values', tare: 'the tare', days: 'days' } as const;
  for (const [list, what] of Object.entries(lists)) {
    const byMeasurement: object = Reflect.get(plan.records, list) ?? {};
    const unknown = Object.keys(byMeasurement).find((id) => !known.has(id));
    if (unknown !== undefined) {
      return contradict(
        ['records', list],
        `${what} of the measurement "${unknown}"`,
        'only measurements of the trial',
      );
    }
  }
  return trailHangsTogether(plan, known, sound);
};

const NONE = Object.freeze({});

/** Every act that is named has to be there, and every measurement. */
function trailHangsTogether(
  { records: { trail } }: Plan,
  known: ReadonlySet<string>,
  sound: Plan | undefined,
): Contradiction | null {
  if (!trail) return null;
  const at = ['records', 'trail'];
  const { acts, entered, enteredSecond = {}, replaced } = trail;
  const before = sound?.records.trail;
  for (const [name, list] of Object.entries({ entered, enteredSecond })) {
    for (const [measurementId, byPot] of Object.entries(list)) {
      if (!known.has(measurementId)) {
        return contradict([...at, name], sayFound(measurementId), 'a measurement of the trial');
      }
      // Acts are only ever added, so that what was sound stays so.
      const stood = before?.[name === 'entered' ? name : 'enteredSecond']?.[measurementId];
      for (const potId of changedKeys(stood ?? NONE, byPot)) {
        const act = byPot[potId] ?? 0;
        if (act < acts.length) continue;
        const path = [...at, name, measurementId, potId];
        return contradict(path, `act ${act}`, `one of the ${acts.length} acts`);
      }
    }
  }
  for (const name of ['marks', 'notes'] as const) {
    const list = trail[name] ?? [];
    const i = list.findIndex(({ act }) => act >= acts.length);
    if (i < 0) continue;
    const found = `act ${list[i]?.act ?? ''}`;
    return contradict([...at, name, i, 'act'], found, `one of the ${acts.length} acts`);
  }
  const i = replaced.findIndex(
    (one) =>
      !known.has(one.measurementId) || one.act >= acts.length || (one.entered ?? 0) > one.act,
  );
  if (i < 0) return null;
  const found = sayFound(replaced[i]?.measurementId);
  return contradict([...at, 'replaced', i], found, 'a measurement of the trial, and acts in order');
}
