import type { Plan } from '../../../../shared-types/plan';
import type { BoundCommand } from '../../../document';
import { applyCommand } from '../../../document/apply';
import type { UnansweredKind } from '../../../document/commands';
import { isWorse, type FactorUnits, type SkeletonRow } from '../../../engine/trial';
import { misfitsOf } from '../../../engine/trial/fit/fit';
import { inRuns } from '../../../engine/trial/inRuns';
import { siteOf } from '../../../engine/trial/site/siteOf';
import { unitsOfSite } from '../../../engine/trial/units';
import type { UnitsReport } from '../../../engine/trial/strata/skeleton';
import { ppfdByPotOf } from '../../light/potLight';
import { questionsOn, type TrialQuestion } from '../questions';
import { grownOf } from '../runs';
import { attempt, potsOf, zonesOf } from '../trial';

/** One thing that can be done about questions that the trial cannot answer, or hardly. */
export interface WayOut {
  title: string;
  /** What it means at the rack. */
  says: string;
  /** What it takes, in a few words each: `4 boards`, `24 pots fewer`. */
  costs: string[];
  /** Measured pots grown in all, and how many of them are more than planned now. */
  pots: number;
  morePots: number;
  skeleton: SkeletonRow[];
  /** Every question as it then stands. */
  questions: TrialQuestion[];
  /** Questions that it makes worse, by their factors' names. */
  worse: string[];
  /** Takes it up, in one undo step; what it logs is dated. */
  command: (date: string | null) => BoundCommand;
  /** The plan as it then is, for its picture. */
  after: Plan;
  /** Orders the ways: what is bought, built and waited for. */
  price: number;
}

/** The plan today and what it asks, beside which ways are judged. */
export interface Today {
  plan: Plan;
  units: UnitsReport;
  questions: readonly TrialQuestion[];
}

export const measured = (plan: Plan): number =>
  grownOf(plan).count * potsOf(plan).filter((pot) => !pot.guard).length;

/** Units of an altered plan under today's light; null where its layout could not be drawn. */
export function unitsAfter(after: Plan, { plan }: Today): UnitsReport | null {
  const { trial, rack } = after;
  if (!trial) return null;
  const found = attempt(() => {
    const site = siteOf({ rack, trial, ppfdByPot: ppfdByPotOf(plan), zones: zonesOf(after) });
    return misfitsOf(site).length > 0 ? null : inRuns(unitsOfSite(site), trial, grownOf(after));
  });
  return found.ok ? found.value : null;
}

export const factorOf = (units: UnitsReport, factorId: string): FactorUnits | undefined =>
  units.factors.find((one) => one.factorId === factorId);

/** The stop that stands while a factor cannot be judged. */
export const stopOf = ({ replicated }: FactorUnits): UnansweredKind =>
  replicated ? 'unit-too-few-df' : 'factor-not-replicated';

/** Names of the factors whose questions stand worse than today. */
export function worseThan(today: Today, questions: readonly TrialQuestion[]): string[] {
  return questions
    .filter(({ factorId, grade }) => {
      const was = today.questions.find((one) => one.factorId === factorId);
      return was !== undefined && isWorse(grade, was.grade);
    })
    .map(({ factor }) => factor.name);
}

type Told = Pick<WayOut, 'title' | 'says' | 'costs' | 'price'>;

/** A way that one command takes; null where the factor is no better off by it. */
export function wayBy(
  command: BoundCommand,
  factorId: string,
  today: Today,
  tell: (factor: FactorUnits, after: Plan) => Told,
): WayOut | null {
  // As a click would run it, so that what a planted trial refuses is not offered.
  const done = applyCommand(today.plan, command, null);
  if (!done.ok) return null;
  const after = done.plan;
  const units = unitsAfter(after, today);
  const factor = units && factorOf(units, factorId);
  if (!units || !factor?.replicated || factor.errorDf < 1) return null;
  const questions = questionsOn(after, units, grownOf(after).count);
  return {
    ...tell(factor, after),
    pots: measured(after),
    morePots: measured(after) - measured(today.plan),
    skeleton: units.skeleton,
    questions,
    worse: worseThan(today, questions),
    command: () => command,
    after,
  };
}
