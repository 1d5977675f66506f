import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { list, noticesOfStage, plural } from '../../words';
import { measurementLabel } from '../../document/queries/names';

const layoutNotice = noticesOfStage('layout');
const findingsNotice = noticesOfStage('findings');

/**
 * Whether the trial was done in the order that its answer rests on: draw, plant, fix the rule,
 * harvest. Told by the plan's own dates and counts.
 */
export function orderNotices(plan: Plan): Notice[] {
  return [...drawnLate(plan), ...fixedLate(plan)];
}

/** A layout that is younger than what was recorded on it cannot have decided the treatments. */
function drawnLate({ layout, trial, records }: Plan): Notice[] {
  if (!layout || !trial?.factors.some((factor) => factor.kind === 'randomised')) return [];
  const day = layout.drawnAt.slice(0, 10);
  const earlier = trial.measurements.flatMap((measurement) => {
    const { id, timepoint, date } = measurement;
    const count = Object.keys(records.values[id] ?? {}).length;
    if (timepoint === 'start' || date === null || date >= day || count === 0) return [];
    const values = plural(count, 'value');
    return [`${values} of ${measurementLabel(measurement)} from ${date}`];
  });
  const planted = layout.plantedAt !== null && layout.plantedAt < day ? layout.plantedAt : null;
  const exchange = layout.swaps.find(({ date }) => date < day);
  const what = [
    ...(planted === null ? [] : [`planting on ${planted}`]),
    ...(exchange ? [`an exchange on ${exchange.date}`] : []),
    ...earlier,
  ];
  if (what.length === 0) return [];
  return [
    layoutNotice(
      'planted-before-draw',
      earlier.length > 0 ? 'stop' : 'warn',
      ['plan'],
      `The layout was drawn on ${day}, after ${list(what)}. A draw cannot decide treatments that plants already had.`,
      'Open the plan as it was planted, or correct the dates. Otherwise the treatments here are not those that were given.',
    ),
  ];
}

/** A rule that is fixed with results in view may have been chosen by them. */
function fixedLate({ trial, records }: Plan): Notice[] {
  const fixed = trial?.analysisLocked;
  const answers = trial?.measurements.find(({ id }) => id === trial.primaryOutcomeId);
  if (!fixed || !answers) return [];
  const { date, valuesThen } = fixed;
  const recorded = Object.keys(records.values[answers.id] ?? {}).length;
  const harvested = answers.date !== null && answers.date < date && recorded > 0;
  if (valuesThen === 0 && !harvested) return [];
  const after =
    valuesThen > 0
      ? `when ${plural(valuesThen, 'value')} of ${measurementLabel(answers)} had been recorded`
      : `after ${measurementLabel(answers)} was taken on ${answers.date ?? ''}`;
  return [
    findingsNotice(
      'rule-fixed-late',
      'warn',
      [`measurement:${answers.id}`],
      `The rule of the analysis was fixed on ${date}, ${after}. The results may have guided it.`,
      'Treat the result as exploratory, and fix the rule before harvest next time.',
    ),
  ];
}
