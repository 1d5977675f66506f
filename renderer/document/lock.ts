import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';
import { Refusal } from './command';
import { checkConditions } from './plantedConditions';
import { changeOfLayout, potsById, faultOf, same } from './layoutChange';
import { codeOfPot } from './queries/names';
import { checkSevering } from './severing';
import { sayDay } from '../words';

/**
 * Throws a Refusal where an edit would pull the ground from under living plants or recorded
 * values. It compares the plan before and after, whatever command made the change:
 * - pots of a planted layout may not move, vanish, change code or become guard pots, and their
 *   factors, blocks and levels stay, except through an exchange that the layout logs; so does the
 *   plant, unless the log tells of a substitute;
 * - lamps, boards, what sides face, timers, flooding, media and what the levels set stay, unless the log tells of a
 *   correction;
 * - how the question is answered stays while its rule is fixed, and once the harvest of a planted
 *   layout has begun;
 * - what records were recorded on stays, planted or not (see severing.ts). That is said first, for
 *   unlocking would not help.
 */
export function checkLock(before: Plan, after: Plan): void {
  checkSevering(before, after);
  if (before.layout && before.layout.plantedAt !== null) {
    if (after.layout === null) {
      throw new Refusal(
        `The layout is planted (pot ${anyPot(before)} and others); unlock it before dropping it.`,
        { wayOn: 'unlock-layout' },
      );
    }
    if (before.rack !== after.rack) checkPlantedPots(before, after);
    if (before.trial !== after.trial || before.layout !== after.layout) {
      checkPlantedTrial(before, after);
    }
    if (after.layout.plantedAt !== null) checkConditions(before, after);
  }
  if (before.trial !== after.trial) checkAnswerRule(before, after);
}

function anyPot(plan: Plan): string {
  return codeOfPot(plan, plan.layout?.assignments[0]?.potId ?? '');
}

function checkPlantedPots(before: Plan, after: Plan): void {
  const was = potsById(before);
  const is = potsById(after);
  const since = before.layout?.plantedAt ?? '';
  for (const { potId } of before.layout?.assignments ?? []) {
    const old = was.get(potId);
    const now = is.get(potId);
    if (!old) continue;
    const fault = faultOf(old, now);
    if (fault === null) continue;
    throw new Refusal(
      `Pot ${old.code} is planted since ${sayDay(since)} and would ${fault}; unlock the layout first.`,
      { wayOn: 'unlock-layout' },
    );
  }
}

function checkPlantedTrial(before: Plan, after: Plan): void {
  const change = changeOfLayout(before, after);
  if (!change) return;
  const where = `Pot ${anyPot(before)} and the others are planted`;
  switch (change.of) {
    case 'layout':
    case 'trial':
      throw new Refusal(`${where}; unlock the layout before dropping the trial.`, {
        wayOn: 'unlock-layout',
      });
    case 'blocks':
    case 'scheme':
    case 'constraint':
      throw new Refusal(
        `${where} by the ${change.of} of the trial; unlock the layout before changing it.`,
        { wayOn: 'unlock-layout' },
      );
    case 'factors':
      throw new Refusal(
        `${where} with the factors and levels of the trial; unlock the layout before changing them.`,
        { wayOn: 'unlock-layout' },
      );
    case 'pot':
      throw new Refusal(
        `Pot ${codeOfPot(before, change.potId)} is planted and would change; ` +
          'exchange pots with a reason, or unlock the layout first.',
        { wayOn: 'unlock-layout' },
      );
    case 'draw':
      throw new Refusal(`${where} by this layout; unlock it before drawing another.`, {
        wayOn: 'unlock-layout',
      });
  }
}

/**
 * What answers the question, and how position enters, is chosen before the answer is seen: it stays
 * while the rule is fixed, and from the first value of the harvest of a planted layout on.
 */
function checkAnswerRule(before: Plan, after: Plan): void {
  const { trial, records, layout } = before;
  if (!trial || !after.trial) return;
  const fixed = trial.analysisLocked;
  const primaryId = trial.primaryOutcomeId;
  const begun =
    (layout?.plantedAt ?? null) !== null &&
    primaryId !== null &&
    Object.keys(records.values[primaryId] ?? {}).length > 0;
  const stillFixed = fixed !== undefined && after.trial.analysisLocked !== undefined;
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
        `${sinceWords(fixed.date)}, so its comparison ${lost.name} stays; unlock the analysis, with a reason, to change it.`,
        { wayOn: 'unlock-analysis' },
      );
    return;
  }
  const [words] = changed;
  if (fixed && stillFixed) {
    throw new Refusal(
      `${sinceWords(fixed.date)}, so ${words} stays; unlock the analysis, with a reason, to change it.`,
      { wayOn: 'unlock-analysis' },
    );
  }
  throw new Refusal(
    `The harvest has begun, so ${words} stays as it was fixed before; unlock the layout, with a reason, to change it.`,
    { wayOn: 'unlock-layout' },
  );
}

const sinceWords = (date: string) => `The analysis is locked since ${sayDay(date)}`;

/** The parts of the rule, each with what it is called in a sentence. */
function ruleOf(trial: Trial): [string, unknown][] {
  const answers = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  return [
    ['the main result', trial.primaryOutcomeId],
    ['how the answer is taken', trial.primaryIndex],
    ['how position enters the analysis', trial.primaryPosition],
    ['whether the value at the start is allowed for', trial.startCovariate],
    ['whether the depth of water is allowed for', trial.wetDepthCovariate ?? false],
    ['the risk of a false alarm', trial.alpha],
    ['the scale of the answer', answers?.scale ?? null],
  ];
}

function fixedContrasts(trial: Trial | null) {
  return (trial?.factors ?? []).flatMap((factor) =>
    (factor.contrasts ?? [])
      .filter((contrast) => contrast.preSpecified)
      .map((contrast) => ({ ...contrast, factorId: factor.id })),
  );
}
