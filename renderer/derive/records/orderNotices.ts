import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { countOf } from '../../document/changedKeys';
import { list, noticesOfStage, plural, sayDay } from '../../words';
import { firstDayTaken } from '../../document/queries/days';
import { measurementLabel } from '../../document/queries/names';
import { questionOf } from '../../engine/findings';

const layoutNotice = noticesOfStage('layout');
const NONE = Object.freeze({});
const findingsNotice = noticesOfStage('findings');

/**
 * Whether the trial was done in the order that its answer rests on: draw, plant, lock the
 * analysis, harvest. Told by the plan's own dates and counts.
 */
export function orderNotices(plan: Plan): Notice[] {
  return [...drawnLate(plan), ...fixedLate(plan)];
}

/** A layout that is younger than what was recorded on it cannot have decided the treatments. */
function drawnLate({ layout, trial, records }: Plan): Notice[] {
  if (!layout || !trial?.factors.some((factor) => factor.kind === 'randomised')) return [];
  const day = layout.drawnAt.slice(0, 10);
  const earlier = trial.measurements.flatMap((measurement) => {
    const { id, timepoint } = measurement;
    const date = firstDayTaken({ records }, measurement);
    const count = countOf(records.values[id] ?? NONE);
    if (timepoint === 'start' || date === null || date >= day || count === 0) return [];
    const values = plural(count, 'value');
    return [`${values} of ${measurementLabel(measurement)} from ${sayDay(date)}`];
  });
  const planted = layout.plantedAt !== null && layout.plantedAt < day ? layout.plantedAt : null;
  const exchange = layout.swaps.find(({ date }) => date < day);
  const what = [
    ...(planted === null ? [] : [`planting on ${sayDay(planted)}`]),
    ...(exchange ? [`an exchange on ${sayDay(exchange.date)}`] : []),
    ...earlier,
  ];
  if (what.length === 0) return [];
  return [
    layoutNotice(
      'planted-before-draw',
      earlier.length > 0 ? 'stop' : 'warn',
      ['plan'],
      `The layout was drawn on ${sayDay(day)}, after ${list(what)}. A draw cannot decide treatments that plants already had.`,
      'Open the plan as it was planted, or correct the dates. Otherwise the treatments here are not those that were given.',
    ),
  ];
}

/** An analysis that is chosen with results in view may have been chosen by them. */
function fixedLate({ trial, records }: Plan): Notice[] {
  const answers = trial && questionOf(trial)?.measurement;
  // Where nothing is compared there is no result that the analysis could bring about.
  if (!answers || trial.factors.length === 0) return [];
  const recorded = countOf(records.values[answers.id] ?? NONE);
  const fixed = trial.analysisLocked;
  if (!fixed) {
    if (recorded === 0) return [];
    return [
      findingsNotice(
        'rule-fixed-late',
        'warn',
        [`measurement:${answers.id}`],
        `The analysis is not locked, and ${plural(recorded, 'value')} of ${measurementLabel(answers)} ${recorded === 1 ? 'is' : 'are'} recorded. The results may guide it.`,
        'Lock it before more is recorded, treat the result as exploratory, and lock it before harvest next time.',
      ),
    ];
  }
  const { date, valuesThen } = fixed;
  const taken = firstDayTaken({ records }, answers);
  const harvested = taken !== null && taken < date && recorded > 0;
  if (valuesThen === 0 && !harvested) return [];
  const after =
    valuesThen > 0
      ? `when ${plural(valuesThen, 'value')} of ${measurementLabel(answers)} had been recorded`
      : `after ${measurementLabel(answers)} was taken on ${sayDay(taken ?? '')}`;
  return [
    findingsNotice(
      'rule-fixed-late',
      'warn',
      [`measurement:${answers.id}`],
      `The analysis was locked on ${sayDay(date)}, ${after}. The results may have guided it.`,
      'Treat the result as exploratory, and lock the analysis before harvest next time.',
    ),
  ];
}
