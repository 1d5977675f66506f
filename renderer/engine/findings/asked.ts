import type { Layout } from '../../../shared-types/layout';
import type { Notice } from '../../../shared-types/notice';
import type { Records } from '../../../shared-types/records';
import type { Trial } from '../../../shared-types/trial/trial';
import { daysBetween } from '../calendar';
import { obstacleOf } from './refused/obstacle';
import { responseName, startBefore, type Question, type ResponseIndex } from './question';
import { capital, inSentence, noticesOfStage } from '../../words';

/**
 * The question a trial asks of one measurement. Without a measurement named, the plan's primary
 * one, or the first taken at harvest. null where nothing is measured at harvest. It is the question
 * that was asked, whether it can be answered or not (see `obstacleOf`); a measurement other than the
 * primary one, of which no index is planned, is taken as measured where it has no growth.
 */
export function questionOf(
  trial: Trial,
  measurementId?: string | null,
  index?: ResponseIndex,
): Question | null {
  const wanted = measurementId ?? trial.primaryOutcomeId;
  const measurement =
    trial.measurements.find((m) => m.id === wanted) ??
    trial.measurements.find((m) => m.timepoint === 'harvest');
  if (!measurement) return null;
  const start = measurement.timepoint === 'start' ? null : startBefore(trial, measurement);
  const from = start?.date ?? trial.startDate;
  const to = measurement.date ?? trial.harvestDate;
  const days = from && to ? daysBetween(from, to) : null;
  const question = { measurement, start, index: index ?? trial.primaryIndex, days };
  const planned = (measurementId ?? null) === null || measurementId === trial.primaryOutcomeId;
  const free = index === undefined && !planned && obstacleOf(trial, question) !== null;
  return free ? { ...question, index: 'final' } : question;
}

/** The planned question, where it cannot be answered: told from planting on. */
export function questionNotices(
  trial: Trial,
  layout: Layout | null,
  records: Pick<Records, 'values'>,
): Notice[] {
  const question = questionOf(trial);
  if (!question) return [];
  const begun =
    (layout?.plantedAt ?? null) !== null ||
    Object.keys(records.values[question.measurement.id] ?? {}).length > 0;
  const obstacle = begun ? obstacleOf(trial, question, records) : null;
  if (!obstacle) return [];
  const { text, remedy, about } = obstacle;
  return [noticesOfStage('findings')('question-not-answerable', 'warn', about, text, remedy)];
}

/** Why what is looked at is not the planned question, as a sentence; null where it is. */
export function unplannedWords(trial: Trial, question: Question): string | null {
  const planned = questionOf(trial);
  if (!planned) return null;
  if (trial.primaryOutcomeId === null) {
    const harvested = trial.measurements.filter((m) => m.timepoint === 'harvest');
    return harvested.length > 1
      ? `The plan names no main result; this is one of ${harvested.length} measurements at harvest: treat it as exploratory.`
      : null;
  }
  if (planned.measurement.id === question.measurement.id && planned.index === question.index) {
    return null;
  }
  return `This is not the planned question, which is about ${inSentence(responseName(planned).name)}: treat it as exploratory.`;
}

/**
 * How many measurements hold values, the main one named; null where there is but one, or where none
 * is named and `unplannedWords` says it. Measurements at the start are no results.
 */
export function multiplicityWords(
  trial: Trial,
  question: Question,
  records: Pick<Records, 'values'>,
): string | null {
  const main = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const taken = trial.measurements.filter(
    (m) => m.timepoint === 'harvest' && Object.keys(records.values[m.id] ?? {}).length > 0,
  );
  if (!main || taken.length < 2) return null;
  const many = `${taken.length} measurements were recorded at harvest.`;
  const unadjusted = 'No p is adjusted for their number.';
  return question.measurement.id === main.id
    ? `${many} ${capital(main.name)} is the main result; the others are exploratory. ${unadjusted}`
    : `${many} The main result is ${inSentence(main.name)}. ${unadjusted}`;
}
