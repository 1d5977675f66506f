import { unitWords, type Trial } from '../../../../shared-types/trial/trial';
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

export const trialHangsTogether: Check = (plan) => {
  const trial = plan.trial;
  if (!trial) return null;
  const sameFactor = repeated(trial.factors.map((factor) => factor.name));
  if (sameFactor >= 0) {
    const name = sayFound(trial.factors[sameFactor]?.name);
    return contradict(
      ['trial', 'factors', sameFactor, 'name'],
      name,
      'a name that no other factor has',
    );
  }
  const isPot = potTest(plan.rack);
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  const zones = new Set((plan.flood?.zones ?? []).map((zone) => zone.id));
  const bays = new Set(plan.rack.shelves.flatMap((s) => baysOf(s).map((bay) => bay.id)));
  for (const [f, factor] of trial.factors.entries()) {
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
      const exists = {
        shelf: shelves.has(unitId),
        zone: zones.has(unitId),
        bay: bays.has(unitId),
        tray: trays.has(unitId),
        // Strips carry no given levels: the draw alone settles where they run.
        'row-strip': false,
        'column-strip': false,
        pot: isPot(unitId),
      };
      if (!exists[factor.unit]) {
        return contradict(
          [...here, 'unitId'],
          sayFound(unitId),
          `the id of a ${unitWords[factor.unit].one} in the plan, because the factor is applied to a ${unitWords[factor.unit].one}`,
        );
      }
      if (!levels.has(levelId)) {
        return contradict(
          [...here, 'levelId'],
          sayFound(levelId),
          "the id of one of the factor's levels",
        );
      }
      if (placed.has(unitId)) {
        return contradict([...here, 'unitId'], `"${unitId}" once more`, 'every unit once');
      }
      placed.add(unitId);
    }
  }
  const dangling = analysisNamesLevels(trial) ?? settingsNameWhatIsThere(plan);
  if (dangling) return dangling;
  const measurements = new Set(trial.measurements.map((m) => m.id));
  for (const [m, { lowest, highest }] of trial.measurements.entries()) {
    if (lowest === null || highest === null || lowest <= highest) continue;
    const path = ['trial', 'measurements', m, 'highest'];
    return contradict(path, String(highest), `at least the lowest, ${lowest}`);
  }
  if (trial.primaryOutcomeId === null || measurements.has(trial.primaryOutcomeId)) {
    return null;
  }
  return contradict(
    ['trial', 'primaryOutcomeId'],
    sayFound(trial.primaryOutcomeId),
    'the id of one of trial.measurements, or null',
  );
};
