import { potsOfRack } from '../engine/geometry';
import type { Pot } from '../engine/geometry';
import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial';
import { Refusal } from './command';
import { exchangePlants, placedIn } from './exchange';
import type { Placed } from './exchange';
import { codeOfPot } from './queries/names';

// Places are kept to a tenth of a millimetre; less is rounding.
const SAME_PLACE_MM = 0.01;

/**
 * Throws a Refusal where an edit would pull the ground from under living plants or recorded
 * values. It compares the plan before and after, whatever command made the change:
 * - pots of a planted layout may not move, vanish, change code or become guard pots, and their
 *   factors, blocks and levels stay, except through an exchange that the layout logs; so does the
 *   plant, unless the log tells of a substitute;
 * - how the question is answered stays while its rule is fixed, and once the harvest of a planted
 *   layout has begun;
 * - pots that hold records may not vanish.
 */
export function checkLock(before: Plan, after: Plan): void {
  if (before.layout && before.layout.plantedAt !== null) {
    if (after.layout === null) {
      throw new Refusal(
        `The layout is planted (pot ${anyPot(before)} and others); unlock it before dropping it.`,
      );
    }
    if (before.rack !== after.rack) checkPlantedPots(before, after);
    if (before.trial !== after.trial || before.layout !== after.layout) {
      checkPlantedTrial(before, after);
    }
  }
  if (before.trial !== after.trial) checkAnswerRule(before, after);
  if (before.rack !== after.rack) checkRecordedPots(before, after);
}

function byId(plan: Plan): Map<string, Pot> {
  return new Map(potsOfRack(plan.rack).map((pot) => [pot.id, pot]));
}

function anyPot(plan: Plan): string {
  return codeOfPot(plan, plan.layout?.assignments[0]?.potId ?? '');
}

function checkPlantedPots(before: Plan, after: Plan): void {
  const was = byId(before);
  const is = byId(after);
  const since = before.layout?.plantedAt ?? '';
  for (const { potId } of before.layout?.assignments ?? []) {
    const old = was.get(potId);
    const now = is.get(potId);
    if (!old) continue;
    const fault = faultOf(old, now);
    if (fault === null) continue;
    throw new Refusal(
      `Pot ${old.code} is planted since ${since} and would ${fault}; unlock the layout first.`,
    );
  }
}

function faultOf(old: Pot, now: Pot | undefined): string | null {
  if (!now) return 'vanish';
  if (now.shelfId !== old.shelfId) return 'change its shelf';
  if (now.code !== old.code) return `become ${now.code}, against its printed label`;
  if (Math.hypot(now.xMm - old.xMm, now.yMm - old.yMm) > SAME_PLACE_MM) return 'move';
  if (now.guard !== old.guard) {
    return now.guard ? 'become a guard pot' : 'no longer be a guard pot';
  }
  return null;
}

function checkPlantedTrial(before: Plan, after: Plan): void {
  const { layout, trial } = before;
  if (!layout || !trial) return;
  const where = `Pot ${anyPot(before)} and the others are planted`;
  if (!after.trial) throw new Refusal(`${where}; unlock the layout before dropping the trial.`);

  const fixed = ['blocks', 'scheme', 'constraint'] as const;
  const changed = fixed.find((key) => !same(trial[key], after.trial?.[key]));
  if (changed !== undefined) {
    throw new Refusal(
      `${where} by the ${changed} of the trial; unlock the layout before changing it.`,
    );
  }
  let expected: Placed = placedIn(before);
  const newSwaps = after.layout?.swaps.slice(layout.swaps.length) ?? [];
  for (const swap of newSwaps) expected = exchangePlants(expected, swap.a, swap.b);
  const found = placedIn(after);

  if (!same(expected.factors.map(withoutNames), found.factors.map(withoutNames))) {
    throw new Refusal(
      `${where} with the factors and levels of the trial; unlock the layout before changing them.`,
    );
  }
  const logged = new Set(
    after.records.incidents.slice(before.records.incidents.length).flatMap((one) => one.about),
  );
  const moved = expected.assignments.find((a, i) => {
    const now = found.assignments[i];
    // Another plant in the pot: the treatment stays, and the log says so.
    const plant = logged.has(`pot:${a.potId}`) ? now?.plant : a.plant;
    return !same({ ...a, plant }, now);
  });
  if (moved) {
    throw new Refusal(
      `Pot ${codeOfPot(before, moved.potId)} is planted and would change; ` +
        'exchange pots with a reason, or unlock the layout first.',
    );
  }
  const drawn = (plan: Plan) => {
    const { seed, scheme, drawnFrom, swaps } = plan.layout ?? {};
    return { seed, scheme, drawnFrom, swaps: swaps?.slice(0, layout.swaps.length) };
  };
  if (
    found.assignments.length !== expected.assignments.length ||
    !same(drawn(before), drawn(after))
  ) {
    throw new Refusal(`${where} by this layout; unlock it before drawing another.`);
  }
}

/**
 * What answers the question, and how position enters, is chosen before the answer is seen: it stays
 * while the rule is fixed, and from the first value of the harvest of a planted layout on.
 */
function checkAnswerRule(before: Plan, after: Plan): void {
  const { trial, records, layout } = before;
  if (!trial || !after.trial) return;
  const fixed = trial.ruleFixed;
  const primaryId = trial.primaryMeasurementId;
  const begun =
    (layout?.plantedAt ?? null) !== null &&
    primaryId !== null &&
    Object.keys(records.values[primaryId] ?? {}).length > 0;
  const stillFixed = fixed !== undefined && after.trial.ruleFixed !== undefined;
  if (!stillFixed && !begun) return;
  const was = ruleOf(trial);
  const is = ruleOf(after.trial);
  const changed = was.find(([, value], i) => !same(value, is[i]?.[1]));
  if (!changed) {
    if (!fixed || !stillFixed) return;
    // Comparisons that the fixed rule holds; others may be added, and are told apart from them.
    const lost = fixedContrasts(trial).find(
      (one) => !fixedContrasts(after.trial).some((o) => same(o, one)),
    );
    if (lost)
      throw new Refusal(
        `${sinceWords(fixed.date)}, so its comparison ${lost.name} stays; release the rule, with a reason, to change it.`,
      );
    return;
  }
  const [words] = changed;
  if (fixed && stillFixed) {
    throw new Refusal(
      `${sinceWords(fixed.date)}, so ${words} stays; release the rule, with a reason, to change it.`,
    );
  }
  throw new Refusal(
    `The harvest has begun, so ${words} stays as it was fixed before; unlock the layout, with a reason, to change it.`,
  );
}

const sinceWords = (date: string) => `The rule of the analysis is fixed since ${date}`;

/** The parts of the rule, each with what it is called in a sentence. */
function ruleOf(trial: Trial): [string, unknown][] {
  const answers = trial.measurements.find((m) => m.id === trial.primaryMeasurementId);
  return [
    ['what answers the question', trial.primaryMeasurementId],
    ['how the answer is taken', trial.primaryIndex],
    ['how position enters the analysis', trial.primaryPosition],
    ['whether the value at the start is allowed for', trial.startCovariate],
    ['whether the depth of water is allowed for', trial.wetDepthCovariate ?? false],
    ['the share of false alarms accepted', trial.alpha],
    ['the scale of the answer', answers?.scale ?? null],
  ];
}

function fixedContrasts(trial: Trial | null) {
  return (trial?.factors ?? []).flatMap((factor) =>
    (factor.contrasts ?? [])
      .filter((contrast) => contrast.fixed)
      .map((contrast) => ({ ...contrast, factorId: factor.id })),
  );
}

/** A factor as far as plants depend on it; its names may be spelled better at any time. */
function withoutNames(factor: Placed['factors'][number]) {
  const { id, kind, unit, levels, where } = factor;
  const places = [...where].sort((a, b) => (a.unitId < b.unitId ? -1 : 1));
  return {
    id,
    kind,
    unit,
    levels: levels.map(({ id: level, times = 1 }) => ({ level, times })),
    places,
  };
}

function checkRecordedPots(before: Plan, after: Plan): void {
  const { values, second, marks } = after.records;
  const recorded = [...Object.values(values), ...Object.values(second), marks];
  if (recorded.every((byPot) => Object.keys(byPot).length === 0)) return;
  const was = byId(before);
  const is = byId(after);
  for (const byPot of recorded) {
    for (const potId of Object.keys(byPot)) {
      const old = was.get(potId);
      if (old && !is.has(potId)) {
        throw new Refusal(
          `Pot ${old.code} holds records and would vanish; clear its records first.`,
        );
      }
    }
  }
}

function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => same(Reflect.get(a, key), Reflect.get(b, key)))
  );
}
