import type { Plan } from '../../../../shared-types/plan';
import { unitWords, type Factor, type Trial } from '../../../../shared-types/trial/trial';
import { baysOf } from '../../../engine/geometry';
import { potTest } from '../../potsInRack';
import { sayFound } from '../words';
import { contradict, type Check, type Contradiction } from './contradiction';
import { roundedTo } from '../../../words';

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
      return contradict([...at, 'control'], sayFound(factor.control), `${wanted}, or no control`);
    }
    const contrasts = factor.contrasts ?? [];
    const twice = repeated(contrasts.map((contrast) => contrast.name));
    if (twice >= 0) {
      const name = sayFound(contrasts[twice]?.name);
      return contradict(
        [...at, 'contrasts', twice, 'name'],
        name,
        'a name that no other comparison has',
      );
    }
    for (const [c, { weights }] of contrasts.entries()) {
      const here = [...at, 'contrasts', c, 'weights'];
      const stray = weights.findIndex(({ levelId }) => !levels.has(levelId));
      if (stray >= 0) {
        return contradict([...here, stray, 'levelId'], sayFound(weights[stray]?.levelId), wanted);
      }
      const twiceIn = weights.findIndex(
        ({ levelId }, w) => weights.findIndex((other) => other.levelId === levelId) !== w,
      );
      if (twiceIn >= 0) {
        const id = `"${weights[twiceIn]?.levelId ?? ''}" once more`;
        return contradict([...here, twiceIn, 'levelId'], id, 'every level once');
      }
      const sum = weights.reduce((total, { weight }) => total + weight, 0);
      const size = weights.reduce((total, { weight }) => total + Math.abs(weight), 0);
      if (!(size > 0) || Math.abs(sum) > 1e-9 * size) {
        const found = `weights that add up to ${roundedTo(sum, 6)}`;
        return contradict(here, found, 'weights that add up to 0 and are not all 0');
      }
    }
  }
  return null;
}

/** Settings are of what their factor is applied through, and name lamps and media that are there. */
function settingsNameWhatIsThere({
  rack,
  flood,
  trial,
}: Parameters<Check>[0]): Contradiction | null {
  const lampKinds = new Set(rack.lampKinds.map((kind) => kind.id));
  const media = new Set((flood?.media ?? []).map((medium) => medium.id));
  for (const [f, { appliedThrough, levels }] of (trial?.factors ?? []).entries()) {
    for (const [l, { settings }] of levels.entries()) {
      if (!settings) continue;
      const at = ['trial', 'factors', f, 'levels', l, 'settings'];
      if (settings.through !== appliedThrough) {
        const expected =
          appliedThrough === undefined
            ? 'no settings, because it is not said what the factor is applied through'
            : `"${appliedThrough}", what the factor is applied through`;
        return contradict([...at, 'through'], sayFound(settings.through), expected);
      }
      if (
        settings.through === 'light' &&
        settings.lampKindId !== undefined &&
        !lampKinds.has(settings.lampKindId)
      ) {
        const path = [...at, 'lampKindId'];
        return contradict(path, sayFound(settings.lampKindId), 'the id of one of rack.lampKinds');
      }
      if (settings.through === 'medium' && !media.has(settings.mediumId)) {
        const path = [...at, 'mediumId'];
        return contradict(path, sayFound(settings.mediumId), 'the id of one of flood.media');
      }
    }
  }
  return null;
}

/** Names and placed levels of the factors. */
const factorsHangTogether: Check = ({ rack, flood, trial }) => {
  const factors = trial?.factors ?? [];
  const sameFactor = repeated(factors.map((factor) => factor.name));
  if (sameFactor >= 0) {
    const path = ['trial', 'factors', sameFactor, 'name'];
    return contradict(path, sayFound(factors[sameFactor]?.name), 'a name that no other factor has');
  }
  const isThere = unitTest(rack, flood);
  for (const [f, factor] of factors.entries()) {
    const at = ['trial', 'factors', f];
    const sameLevel = repeated(factor.levels.map((level) => level.name));
    if (sameLevel >= 0) {
      const name = sayFound(factor.levels[sameLevel]?.name);
      const path = [...at, 'levels', sameLevel, 'name'];
      return contradict(path, name, 'a name that no other level of this factor has');
    }
    const levels = new Set(factor.levels.map((level) => level.id));
    const placed = new Set<string>();
    for (const [w, { unitId, levelId }] of factor.where.entries()) {
      const here = [...at, 'where', w];
      if (!isThere(factor.unit, unitId)) {
        const { one } = unitWords[factor.unit];
        const wanted = `the id of a ${one} in the plan, because the factor is applied to a ${one}`;
        return contradict([...here, 'unitId'], sayFound(unitId), wanted);
      }
      if (!levels.has(levelId)) {
        const wanted = "the id of one of the factor's levels";
        return contradict([...here, 'levelId'], sayFound(levelId), wanted);
      }
      if (placed.has(unitId)) {
        return contradict([...here, 'unitId'], `"${unitId}" once more`, 'every unit once');
      }
      placed.add(unitId);
    }
  }
  return null;
};

/** Tells whether the rack has a unit that can carry a given level. */
function unitTest(rack: Plan['rack'], flood: Plan['flood']) {
  const { shelves } = rack;
  const ids = {
    shelf: new Set(shelves.map((shelf) => shelf.id)),
    tray: new Set(shelves.flatMap((shelf) => shelf.trays.map((tray) => tray.id))),
    zone: new Set(flood?.zones.map((zone) => zone.id)),
    bay: new Set(shelves.flatMap((shelf) => baysOf(shelf).map((bay) => bay.id))),
    // Strips carry no given levels: the draw alone settles where they run.
    'row-strip': new Set<string>(),
    'column-strip': new Set<string>(),
    pot: { has: potTest(rack) },
  };
  return (unit: Factor['unit'], id: string): boolean => ids[unit].has(id);
}

const measurementsHangTogether: Check = ({ trial }) => {
  if (!trial) return null;
  for (const [m, { lowest, highest }] of trial.measurements.entries()) {
    if (lowest === null || highest === null || lowest <= highest) continue;
    const path = ['trial', 'measurements', m, 'highest'];
    return contradict(path, String(highest), `at least the lowest, ${lowest}`);
  }
  const { primaryOutcomeId } = trial;
  if (primaryOutcomeId === null || trial.measurements.some(({ id }) => id === primaryOutcomeId)) {
    return null;
  }
  const wanted = 'the id of one of trial.measurements, or null';
  return contradict(['trial', 'primaryOutcomeId'], sayFound(primaryOutcomeId), wanted);
};

export const trialHangsTogether: Check = (plan) =>
  plan.trial &&
  (factorsHangTogether(plan) ??
    analysisNamesLevels(plan.trial) ??
    settingsNameWhatIsThere(plan) ??
    measurementsHangTogether(plan));
