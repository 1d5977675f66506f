import type { FloodPlan } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial';
import { idNumber } from '../ids';
import { potTest } from '../potsInRack';
import { rotaFault } from '../rota';
import { sayFound, sayPath } from './words';

/** Two parts of a plan that contradict each other. */
export interface Contradiction {
  at: readonly PropertyKey[];
  /** `at` in the form of `rack.shelves[0].trays[2].widthMm`. */
  path: string;
  found: string;
  expected: string;
}

/** Far more than a room of racks holds; beyond, a file only means to exhaust its reader. */
const MOST_HOLES = 20_000;

type Path = readonly PropertyKey[];
type Check = (plan: Plan, sound?: Plan) => Contradiction | null;

const say = (path: Path, found: string, expected: string): Contradiction => ({
  at: path,
  path: sayPath(path),
  found,
  expected,
});

/** Every permanent id that the plan defines, with the path of the thing that carries it. */
function* definedIds(plan: Plan): Generator<{ id: string; path: Path }> {
  for (const [s, shelf] of plan.rack.shelves.entries()) {
    const at = ['rack', 'shelves', s];
    yield { id: shelf.id, path: at };
    for (const [t, tray] of shelf.trays.entries()) yield { id: tray.id, path: [...at, 'trays', t] };
    for (const [l, lamp] of shelf.lamps.entries()) yield { id: lamp.id, path: [...at, 'lamps', l] };
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
      if (byPot !== sound?.records[list][id]) yield* Object.keys(byPot);
    }
  }
  if (records.marks !== sound?.records.marks) yield* Object.keys(records.marks);
  yield* Object.keys(records.notes ?? {});
  if (layout === sound?.layout) return;
  for (const assignment of layout?.assignments ?? []) yield assignment.potId;
}

/** The lowest number that the plan's counter may stand at. */
export function lowestNextId(plan: Plan, sound?: Plan): number {
  // The counter of a sound plan stands above all that is in it, so it stands for what is skipped.
  let used = sound ? sound.nextId - 1 : 0;
  for (const { id } of definedIds(plan)) used = Math.max(used, idNumber(id));
  for (const id of rememberedIds(plan, sound)) used = Math.max(used, idNumber(id));
  return used + 1;
}

const idsAreUnique: Check = (plan, sound) => {
  const seen = new Map<string, Path>();
  for (const { id, path } of definedIds(plan)) {
    const other = seen.get(id);
    if (other) {
      return say([...path, 'id'], `"${id}", the id of ${sayPath(other)}`, 'an id of its own');
    }
    seen.set(id, path);
  }
  const lowest = lowestNextId(plan, sound);
  if (plan.nextId >= lowest) return null;
  return say(['nextId'], String(plan.nextId), `at least ${lowest}, above every number in use`);
};

const rackHangsTogether: Check = (plan) => {
  const kinds = new Set(plan.rack.lampKinds.map((kind) => kind.id));
  const grids = plan.rack.shelves.flatMap((shelf) => shelf.trays.flatMap((t) => t.grid ?? []));
  const holes = grids.reduce((sum, grid) => sum + grid.rows * grid.columns, 0);
  if (holes > MOST_HOLES) {
    return say(['rack', 'shelves'], `${holes} holes for pots`, `at most ${MOST_HOLES}`);
  }
  for (const [s, shelf] of plan.rack.shelves.entries()) {
    for (const [l, lamp] of shelf.lamps.entries()) {
      if (!kinds.has(lamp.kindId)) {
        const path = ['rack', 'shelves', s, 'lamps', l, 'kindId'];
        return say(path, sayFound(lamp.kindId), 'the id of one of rack.lampKinds');
      }
    }
    for (const [t, tray] of shelf.trays.entries()) {
      const grid = tray.grid;
      if (!grid) continue;
      for (const list of ['guards', 'empty'] as const) {
        for (const [h, hole] of grid[list].entries()) {
          const [row = 0, column = 0] = hole.split(':').map(Number);
          if (row >= 1 && column >= 1 && row <= grid.rows && column <= grid.columns) continue;
          const path = ['rack', 'shelves', s, 'trays', t, 'grid', list, h];
          return say(path, sayFound(hole), `a hole of the ${grid.rows} × ${grid.columns} grid`);
        }
      }
    }
  }
  return null;
};

const kindsAndLightAgree: Check = (plan) => {
  for (const [k, kind] of plan.rack.lampKinds.entries()) {
    if (kind.output.kind !== 'lumens') continue;
    const { lowest, highest, lumensPerUmolS } = kind.output;
    if (lowest <= lumensPerUmolS && lumensPerUmolS <= highest) continue;
    const path = ['rack', 'lampKinds', k, 'output', 'lumensPerUmolS'];
    return say(path, String(lumensPerUmolS), `a number from its ${lowest} to its ${highest}`);
  }
  const target = plan.light.targetPpfdUmol;
  if (target && target.lowest > target.highest) {
    const path = ['light', 'targetPpfdUmol', 'highest'];
    return say(path, String(target.highest), `at least the lowest, ${target.lowest}`);
  }
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  for (const [r, reading] of plan.light.readings.entries()) {
    const at = ['light', 'readings', r];
    if (!shelves.has(reading.shelfId)) {
      return say([...at, 'shelfId'], sayFound(reading.shelfId), 'the id of one of rack.shelves');
    }
    if (reading.unit === 'lux' && reading.luxPerPpfd === null) {
      return say([...at, 'luxPerPpfd'], 'null', 'a number, because the reading is in lux');
    }
  }
  return null;
};

const rotaHangsTogether: Check = (plan) => {
  const fault = rotaFault(plan);
  return fault && say(fault.at, fault.found, fault.expected);
};

const floodNamesWhatIsThere: Check = (plan) => {
  const flood = plan.flood;
  if (!flood) return null;
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  const zones = new Set(flood.zones.map((zone) => zone.id));
  const named: { path: Path; ids: readonly string[]; known: Set<string>; what: string }[] = [
    ...flood.zones.map((zone, z) => ({
      path: ['zones', z, 'trayIds'],
      ids: zone.trayIds,
      known: trays,
      what: 'tray',
    })),
    ...flood.media.map((medium, m) => ({
      path: ['media', m, 'trayIds'],
      ids: medium.trayIds,
      known: trays,
      what: 'tray',
    })),
    { path: ['slopes'], ids: flood.slopes.map((s) => s.trayId), known: trays, what: 'tray' },
    ...flood.circuits.flatMap((circuit, c) => [
      { path: ['circuits', c, 'shelfIds'], ids: circuit.shelfIds, known: shelves, what: 'shelf' },
      { path: ['circuits', c, 'zoneIds'], ids: circuit.zoneIds, known: zones, what: 'flood zone' },
    ]),
  ];
  for (const { path, ids, known, what } of named) {
    const i = ids.findIndex((id) => !known.has(id));
    if (i >= 0) {
      return say(['flood', ...path, i], sayFound(ids[i]), `the id of a ${what} in the plan`);
    }
  }
  return onceEach(flood) ?? curvesFall(flood);
};

/** A tray is flooded by one zone, holds one medium and lies on one slope. */
function onceEach(flood: FloodPlan): Contradiction | null {
  const lists: [readonly (readonly string[])[], (list: number, i: number) => Path, string][] = [
    [flood.zones.map((z) => z.trayIds), (z, i) => ['zones', z, 'trayIds', i], 'one zone'],
    [flood.media.map((m) => m.trayIds), (m, i) => ['media', m, 'trayIds', i], 'one medium'],
    [[flood.slopes.map((s) => s.trayId)], (_, i) => ['slopes', i, 'trayId'], 'one slope'],
  ];
  for (const [ids, pathOf, what] of lists) {
    const seen = new Set<string>();
    for (const [list, own] of ids.entries()) {
      for (const [i, id] of own.entries()) {
        if (seen.has(id)) {
          return say(['flood', ...pathOf(list, i)], `"${id}" once more`, `every tray in ${what}`);
        }
        seen.add(id);
      }
    }
  }
  return null;
}

/** More flow at more head is no pump. */
function curvesFall(flood: FloodPlan): Contradiction | null {
  for (const [z, zone] of flood.zones.entries()) {
    const points = zone.pump.curve;
    for (const [i, point] of points.entries()) {
      const better = points.find((p) => p.headM <= point.headM && p.flowLMin < point.flowLMin);
      if (!better) continue;
      return say(
        ['flood', 'zones', z, 'pump', 'curve', i, 'flowLMin'],
        `${point.flowLMin} L/min at ${point.headM} m`,
        `at most the ${better.flowLMin} L/min that it gives at ${better.headM} m`,
      );
    }
  }
  return null;
}

function repeated(names: readonly string[]): number {
  const seen = new Set<string>();
  return names.findIndex((name) => {
    const key = name.toLowerCase();
    if (seen.has(key)) return true;
    seen.add(key);
    return false;
  });
}

/** Controls and planned comparisons speak of levels that their factor has, in sums of zero. */
function analysisNamesLevels(trial: Trial): Contradiction | null {
  for (const [f, factor] of trial.factors.entries()) {
    const at = ['trial', 'factors', f];
    const levels = new Set(factor.levels.map((level) => level.id));
    const wanted = `the id of one of the levels of "${factor.name}"`;
    if (factor.control !== undefined && !levels.has(factor.control)) {
      return say([...at, 'control'], sayFound(factor.control), `${wanted}, or no control`);
    }
    const contrasts = factor.contrasts ?? [];
    const twice = repeated(contrasts.map((contrast) => contrast.name));
    if (twice >= 0) {
      const name = sayFound(contrasts[twice]?.name);
      return say([...at, 'contrasts', twice, 'name'], name, 'a name that no other comparison has');
    }
    for (const [c, { weights }] of contrasts.entries()) {
      const here = [...at, 'contrasts', c, 'weights'];
      const stray = weights.findIndex(({ levelId }) => !levels.has(levelId));
      if (stray >= 0) {
        return say([...here, stray, 'levelId'], sayFound(weights[stray]?.levelId), wanted);
      }
      const twiceIn = weights.findIndex(
        ({ levelId }, w) => weights.findIndex((other) => other.levelId === levelId) !== w,
      );
      if (twiceIn >= 0) {
        const id = `"${weights[twiceIn]?.levelId ?? ''}" once more`;
        return say([...here, twiceIn, 'levelId'], id, 'every level once');
      }
      const sum = weights.reduce((total, { weight }) => total + weight, 0);
      const size = weights.reduce((total, { weight }) => total + Math.abs(weight), 0);
      if (!(size > 0) || Math.abs(sum) > 1e-9 * size) {
        const found = `weights that add up to ${Number(sum.toPrecision(6))}`;
        return say(here, found, 'weights that add up to 0 and are not all 0');
      }
    }
  }
  return null;
}

const trialHangsTogether: Check = (plan) => {
  const trial = plan.trial;
  if (!trial) return null;
  const sameFactor = repeated(trial.factors.map((factor) => factor.name));
  if (sameFactor >= 0) {
    const name = sayFound(trial.factors[sameFactor]?.name);
    return say(['trial', 'factors', sameFactor, 'name'], name, 'a name that no other factor has');
  }
  const isPot = potTest(plan.rack);
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  for (const [f, factor] of trial.factors.entries()) {
    const at = ['trial', 'factors', f];
    const sameLevel = repeated(factor.levels.map((level) => level.name));
    if (sameLevel >= 0) {
      const name = sayFound(factor.levels[sameLevel]?.name);
      const path = [...at, 'levels', sameLevel, 'name'];
      return say(path, name, 'a name that no other level of this factor has');
    }
    const levels = new Set(factor.levels.map((level) => level.id));
    const placed = new Set<string>();
    for (const [w, { unitId, levelId }] of factor.where.entries()) {
      const here = [...at, 'where', w];
      const exists = {
        shelf: shelves.has(unitId),
        tray: trays.has(unitId),
        // Strips carry no given levels: the draw alone settles where they run.
        'row-strip': false,
        'column-strip': false,
        pot: isPot(unitId),
      };
      if (!exists[factor.unit]) {
        return say(
          [...here, 'unitId'],
          sayFound(unitId),
          `the id of a ${factor.unit} in the rack, because the factor is applied to a ${factor.unit}`,
        );
      }
      if (!levels.has(levelId)) {
        return say([...here, 'levelId'], sayFound(levelId), "the id of one of the factor's levels");
      }
      if (placed.has(unitId)) {
        return say([...here, 'unitId'], `"${unitId}" once more`, 'every unit once');
      }
      placed.add(unitId);
    }
  }
  const dangling = analysisNamesLevels(trial);
  if (dangling) return dangling;
  const measurements = new Set(trial.measurements.map((m) => m.id));
  for (const [m, { lowest, highest }] of trial.measurements.entries()) {
    if (lowest === null || highest === null || lowest <= highest) continue;
    const path = ['trial', 'measurements', m, 'highest'];
    return say(path, String(highest), `at least the lowest, ${lowest}`);
  }
  if (trial.primaryMeasurementId === null || measurements.has(trial.primaryMeasurementId)) {
    return null;
  }
  return say(
    ['trial', 'primaryMeasurementId'],
    sayFound(trial.primaryMeasurementId),
    'the id of one of trial.measurements, or null',
  );
};

const layoutFitsTrial: Check = (plan) => {
  const { layout, trial } = plan;
  if (!layout) return null;
  if (!trial) return say(['layout'], 'a drawn layout', 'null, because there is no trial');
  const levelsOf = new Map(trial.factors.map((f) => [f.id, new Set(f.levels.map((l) => l.id))]));
  const isPot = potTest(plan.rack);
  const drawn = new Set<string>();
  for (const [a, { potId, levels }] of layout.assignments.entries()) {
    const at = ['layout', 'assignments', a];
    if (drawn.has(potId)) return say([...at, 'potId'], `"${potId}" once more`, 'every pot once');
    drawn.add(potId);
    // Before planting a layout may lag behind the rack; then a notice asks for another draw.
    if (layout.plantedAt !== null && !isPot(potId)) {
      return say([...at, 'potId'], sayFound(potId), 'a pot of the rack, because it is planted');
    }
    for (const [factorId, levelId] of Object.entries(levels)) {
      const known = levelsOf.get(factorId);
      if (!known) {
        return say(
          [...at, 'levels'],
          `a level of the factor "${factorId}"`,
          'only factors of the trial',
        );
      }
      if (!known.has(levelId)) {
        const path = [...at, 'levels', factorId];
        return say(path, sayFound(levelId), "the id of one of the factor's levels");
      }
    }
    if (layout.plantedAt === null) continue;
    const lacking = trial.factors.find((factor) => levels[factor.id] === undefined);
    if (lacking) {
      const wanted = `a level of "${lacking.name}", because it is planted`;
      return say([...at, 'levels', lacking.id], 'nothing', wanted);
    }
  }
  return null;
};

const plantsFitTrial: Check = (plan) => {
  const codes = new Set<string>();
  const factors = new Map(plan.trial?.factors.map((factor) => [factor.id, factor]));
  for (const [p, { code, levels = {} }] of (plan.plants ?? []).entries()) {
    const key = code.toLowerCase();
    if (codes.has(key)) return say(['plants', p, 'code'], sayFound(code), 'every plant once');
    codes.add(key);
    for (const [factorId, levelId] of Object.entries(levels)) {
      const known = factors.get(factorId)?.levels.some((level) => level.id === levelId);
      if (known) continue;
      const path = ['plants', p, 'levels', factorId];
      return say(path, sayFound(levelId), 'a level of one of the factors of the trial');
    }
  }
  return null;
};

const recordsFitTrial: Check = (plan) => {
  const known = new Set(plan.trial?.measurements.map((m) => m.id));
  const lists = { values: 'values', second: 'values', tare: 'the dish' } as const;
  for (const [list, what] of Object.entries(lists)) {
    const byMeasurement: object = Reflect.get(plan.records, list) ?? {};
    const unknown = Object.keys(byMeasurement).find((id) => !known.has(id));
    if (unknown !== undefined) {
      return say(
        ['records', list],
        `${what} of the measurement "${unknown}"`,
        'only measurements of the trial',
      );
    }
  }
  return null;
};

/** Every check with the parts of the plan that it reads. */
const checks: readonly { check: Check; reads: readonly (keyof Plan)[] }[] = [
  {
    check: idsAreUnique,
    reads: ['nextId', 'rack', 'light', 'flood', 'trial', 'layout', 'records'],
  },
  { check: rackHangsTogether, reads: ['rack'] },
  { check: kindsAndLightAgree, reads: ['rack', 'light'] },
  { check: rotaHangsTogether, reads: ['rack', 'light'] },
  { check: floodNamesWhatIsThere, reads: ['rack', 'flood'] },
  { check: trialHangsTogether, reads: ['rack', 'trial'] },
  { check: layoutFitsTrial, reads: ['rack', 'trial', 'layout'] },
  { check: plantsFitTrial, reads: ['trial', 'plants'] },
  { check: recordsFitTrial, reads: ['trial', 'records'] },
];

/**
 * The first contradiction between parts of a plan that its schema cannot see: repeated ids, names
 * of things that are not there, ranges upside down. Pots without a hole in the records are no
 * contradiction but a notice: what was measured stays. `sound`: a plan that has none, whose parts
 * need no second look where this one still has them.
 */
export function findInconsistency(plan: Plan, sound?: Plan): Contradiction | null {
  for (const { check, reads } of checks) {
    if (sound && reads.every((part) => plan[part] === sound[part])) continue;
    const found = check(plan, sound);
    if (found) return found;
  }
  return null;
}
