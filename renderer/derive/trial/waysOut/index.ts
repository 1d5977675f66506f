import type { Plan } from '../../../../shared-types/plan';
import type { Factor } from '../../../../shared-types/trial/trial';
import { bind, together, type BoundCommand } from '../../../document';
import { reportAsCase } from '../../../document/commands';
import { isWorse, type FactorUnits } from '../../../engine/trial';
import { inSentence, list } from '../../../words';
import { memo } from '../../memo';
import { questionsOf, type TrialQuestion } from '../questions';
import { unitsOfPlan } from '../trial';
import { boards } from './boards';
import { fewerLevels, moreShelves } from './more';
import { swappedRuns } from './runs';
import { splits } from './split';
import { measured, stopOf, unitsAfter, worseThan, type Today, type WayOut } from './way';

export type { WayOut } from './way';

/** Whether a factor needs a way out: nothing, or hardly anything, to judge it by. */
export const needsWayOut = ({ grade, factor }: TrialQuestion): boolean =>
  grade === 'cannot' || (grade === 'weak' && factor.unit !== 'pot');

/**
 * The ways out that this rack and what the factors are applied through allow: first those that leave
 * no question without an answer, then the cheapest. What is mixed costs less than what is built, then
 * bought, then waited for. None leaves its question as it was.
 */
export const waysOutOf = memo((plan: Plan): WayOut[] => {
  const units = unitsOfPlan(plan);
  const questions = questionsOf(plan);
  if (!units.ok || !questions.ok) return [];
  const today: Today = { plan, units: units.value, questions: questions.value };
  const ways = waysFrom(today);
  const mixed = ways.filter(isMixing).flatMap((mix) => afterMixing(mix, today));
  return undominated(unlike([...ways, ...mixed])).sort(
    (a, b) => unanswered(a) - unanswered(b) || a.price - b.price,
  );
});

/** Each way that helps one of the open questions. */
function waysFrom(today: Today): WayOut[] {
  return today.questions.filter(needsWayOut).flatMap((question) => {
    const factor = onItsUnit(today.plan, question.factor);
    return factor ? waysFor(factor, today).filter((way) => helps(way, question)) : [];
  });
}

const isMixing = ({ price }: WayOut): boolean => price === 0;
const unanswered = ({ questions }: WayOut): number =>
  questions.filter(({ grade }) => grade === 'cannot').length;

/** What else helps once the levels of one factor are mixed, both as one way. */
function afterMixing(mix: WayOut, today: Today): WayOut[] {
  const units = unitsAfter(mix.after, today);
  if (!units) return [];
  const mixed: Today = { plan: mix.after, units, questions: mix.questions };
  return waysFrom(mixed)
    .filter((way) => !isMixing(way))
    .map((way) => ({
      ...way,
      title: `${mix.title}, and ${inSentence(way.title)}`,
      says: `${mix.says} ${way.says}`,
      morePots: way.pots - measured(today.plan),
      worse: worseThan(today, way.questions),
      command: (date) =>
        together(
          () => `${mix.title}; ${inSentence(way.title)}`,
          [mix.command(date), way.command(date)],
        ),
    }));
}

/** The factor as the plan has it, on the unit that can in truth differ. */
function onItsUnit(plan: Plan, { factorId, unit }: FactorUnits): Factor | null {
  const factor = plan.trial?.factors.find(({ id }) => id === factorId);
  return factor ? { ...factor, unit } : null;
}

function waysFor(factor: Factor, today: Today): WayOut[] {
  const split = splits(factor, today);
  if (factor.unit === 'pot') return split;
  const parted = boards(factor, today);
  const fewer = fewerLevels(factor, today);
  const more = moreShelves(factor, today);
  const runs = swappedRuns(factor, today);
  return [...split, ...[parted, fewer, more, runs].filter((way) => way !== null)];
}

/** Whether the question stands better after it than before. */
function helps({ questions }: WayOut, before: TrialQuestion): boolean {
  const after = questions.find(({ factorId }) => factorId === before.factorId);
  if (!after) return false;
  return isWorse(before.grade, after.grade) || after.factor.errorDf > before.factor.errorDf;
}

/** Without ways that another one of the same price beats on some question and falls behind on none. */
const undominated = (ways: readonly WayOut[]): WayOut[] =>
  ways.filter((way) => !ways.some((other) => other !== way && beats(other, way)));

function beats(one: WayOut, other: WayOut): boolean {
  const gradeIn = ({ questions }: WayOut, id: string) =>
    questions.find(({ factorId }) => factorId === id)?.grade ?? 'cannot';
  const pairs = one.questions.map(
    ({ factorId, grade }) => [grade, gradeIn(other, factorId)] as const,
  );
  return (
    one.price === other.price &&
    pairs.every(([mine, theirs]) => !isWorse(mine, theirs)) &&
    pairs.some(([mine, theirs]) => isWorse(theirs, mine))
  );
}

/** One way reached from two questions is one way. */
const unlike = (ways: readonly WayOut[]): WayOut[] =>
  ways.filter((way, i) => ways.findIndex(({ title }) => title === way.title) === i);

/** The questions that the trial cannot answer, and what the plan says of them. */
export const unansweredOf = memo((plan: Plan) => {
  const questions = questionsOf(plan);
  const open = questions.ok ? questions.value.filter(({ grade }) => grade === 'cannot') : [];
  return open.map(({ factorId, factor }) => {
    const kind = stopOf(factor);
    const about = [`factor:${factorId}`];
    const accepted = plan.acceptedNotices.find(
      (notice) => notice.kind === kind && notice.about.join() === about.join(),
    );
    return { factorId, name: factor.name, kind, about, reason: accepted?.reason ?? null };
  });
});

/** Grows the trial as it is and claims nothing about what it cannot answer. */
export function growAnyway(plan: Plan, why: string, date: string): BoundCommand {
  const open = unansweredOf(plan).filter(({ reason }) => reason === null);
  return together(
    () => `Describe ${list(open.map(({ name }) => name))} without a test`,
    open.map(({ factorId, kind }) => bind(reportAsCase, { factorId, kind, why, date })),
  );
}
