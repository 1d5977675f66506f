import { unitWords } from '../../../shared-types/trial/trial';
import type { Plan } from '../../../shared-types/plan';
import {
  assumedWords,
  FEWEST_ERROR_DF,
  gradeOf,
  termPowers,
  type FactorUnits,
  type Grade,
  type TermPower,
  type UnitsReport,
} from '../../engine/trial';
import { tQuantile } from '../../engine/stats/distributions';
import { capital, figures, list } from '../../words';
import { memo } from '../memo';
import { grownOf } from './runs';
import { potsOf, unitsOfPlan, type Attempt } from './trial';

/** What is asked of one factor, and how well the trial can answer it. */
export interface TrialQuestion {
  factorId: string;
  /** `Bright or dim light?` */
  asks: string;
  factor: FactorUnits;
  grade: Grade;
  /** How many stand against how many, `3 against 3`; empty where single pots are shuffled. */
  stand: string;
  /** Why it is so and what will show, in a sentence or two. */
  says: string;
}

/** The trial's questions, one a factor that has levels to compare. */
export const questionsOf = memo((plan: Plan): Attempt<TrialQuestion[]> => {
  const units = unitsOfPlan(plan);
  return units.ok
    ? { ok: true, value: questionsOn(plan, units.value, grownOf(plan).count) }
    : units;
});

/** The questions of a plan, its units computed already, of so many runs together. */
export function questionsOn(plan: Plan, units: UnitsReport, runs: number): TrialQuestion[] {
  const { trial } = plan;
  if (!trial) return [];
  const pots = runs * potsOf(plan).filter((pot) => !pot.guard).length;
  const powers = termPowers(units, trial, pots);
  return units.factors
    .filter(({ unitsPerLevel }) => unitsPerLevel.length >= 2)
    .map((factor) => {
      const power = powers.find(({ factorIds }) => factorIds.join() === factor.factorId);
      return questionOf(plan, units, factor, power, runs);
    });
}

function questionOf(
  plan: Plan,
  units: UnitsReport,
  factor: FactorUnits,
  power: TermPower | undefined,
  runs: number,
): TrialQuestion {
  const detectable = power?.detectable ?? null;
  const wanted = plan.trial?.expected?.smallestDifference ?? null;
  const grade = gradeOf(factor, detectable, wanted);
  const few = grade === 'weak' && factor.errorDf < FEWEST_ERROR_DF;
  return {
    factorId: factor.factorId,
    asks: asks(factor),
    factor,
    grade,
    stand: factor.unit === 'pot' ? '' : standing(factor),
    says: [
      grade === 'cannot'
        ? whyNot(factor, units)
        : whatShows(plan, factor, detectable, wanted, runs),
      ...(few ? [fewUnits(factor, plan.trial?.alpha ?? 0.05)] : []),
    ].join(' '),
  };
}

/** Two levels are named; of more the factor is. */
function asks({ name, unitsPerLevel }: FactorUnits): string {
  const levels = unitsPerLevel.map((level) => level.name);
  if (levels.length > 2) return `Which ${name}?`;
  const pair = levels.join(' or ');
  const named = pair.toLowerCase().includes(name.toLowerCase());
  return `${capital(named ? pair : `${pair} ${name}`)}?`;
}

const standing = ({ unitsPerLevel }: FactorUnits): string =>
  unitsPerLevel.map(({ units }) => units).join(' against ');

function whyNot(factor: FactorUnits, { factors }: UnitsReport): string {
  const { name, unit, unitCount, unitsPerLevel, replicated } = factor;
  const { one, many } = unitWords[unit];
  const without = unitsPerLevel.filter(({ units }) => units < 1);
  if (unitCount < unitsPerLevel.length) {
    const there = unitCount === 1 ? `is one` : `are ${unitCount}`;
    return `${capital(name)} needs a ${one} for each level, and there ${there}.`;
  }
  if (without.length > 0) {
    const verb = without.length === 1 ? 'stands' : 'stand';
    return `${list(without.map((level) => level.name))} ${verb} on no ${one}.`;
  }
  const beside = factors.filter(({ stratum }) => stratum === factor.stratum);
  const combinations = beside.reduce((n, other) => n * other.unitsPerLevel.length, 1);
  const why = !replicated
    ? `Each level stands on one ${one}`
    : combinations === unitCount
      ? `Every ${one} is a different combination`
      : `The comparisons use up all ${many}`;
  return `${why}, so nothing tells ${name} from ${one}. More plants do not help.`;
}

function whatShows(
  plan: Plan,
  factor: FactorUnits,
  detectable: number | null,
  wanted: number | null,
  runs: number,
): string {
  const { expected, measurements = [], primaryOutcomeId } = plan.trial ?? {};
  const unit = measurements.find(({ id }) => id === primaryOutcomeId)?.unit ?? '';
  const each = `${eachLevel(factor)}${runs > 1 ? ` over ${runs} runs` : ''}`;
  if (detectable === null || wanted === null || !expected) return `${each}.`;
  const amount = (value: number) => `${figures(value, 2)} ${unit}`.trimEnd();
  const assumed = assumedWords(factor.unit, expected, unit);
  const given = assumed === '' ? '' : ` (${assumed})`;
  return detectable > wanted
    ? `${each}: only differences above about ${amount(detectable)} will show${given}; ${amount(wanted)} is what matters.`
    : `${each}: differences of about ${amount(detectable)} and more will show${given}.`;
}

function eachLevel({ unit, unitsPerLevel }: FactorUnits): string {
  const counts = unitsPerLevel.map(({ units }) => units);
  const [least, most] = [Math.min(...counts), Math.max(...counts)];
  const { one, many } = unitWords[unit];
  return `${least === most ? least : `${least} to ${most}`} ${most === 1 ? one : many} each`;
}

/** Where shelves or trays are few, whatever stands on them. */
function fewUnits({ errorDf }: FactorUnits, alpha: number): string {
  const times = figures(tQuantile(1 - alpha / 2, errorDf), 2);
  return `However many plants, a difference must exceed ${times} times its error.`;
}
