import type { Records } from '../../../../shared-types/records';
import type { Trial } from '../../../../shared-types/trial/trial';
import { responseName, startsLike, type Question } from '../question';
import { inSentence, list } from '../../../words';

/** Why a question cannot be answered as it was asked, and what would help. */
export interface Obstacle {
  /** What was asked, and why it cannot be computed, as sentences. */
  text: string;
  remedy: string;
  about: string[];
  /** The stage where the remedy is. */
  stage: 'trial' | 'records';
}

/**
 * What keeps the plan, or its records where they are given, from answering a question; null where
 * nothing does. Another question is never answered in its place.
 */
export function obstacleOf(
  trial: Trial,
  question: Question,
  records: Pick<Records, 'values'> | null = null,
): Obstacle | null {
  if (question.index === 'final') return null;
  const { name } = question.measurement;
  const lack = lackOf(trial, question, records);
  if (!lack) return null;
  return {
    ...lack,
    text: `${responseName(question).name} was planned. It cannot be computed: ${lack.text}.`,
    remedy: `${lack.remedy} Until then you can look at ${inSentence(name)} as measured, which is not the planned question.`,
  };
}

function lackOf(
  trial: Trial,
  { measurement, start, index, days }: Question,
  records: Pick<Records, 'values'> | null,
): Obstacle | null {
  const { name } = measurement;
  const of = [`measurement:${measurement.id}`];
  if (!start) {
    const like = startsLike(trial, measurement);
    return like.length > 1
      ? {
          text: `${list(like.map((m) => m.name))} were all measured at the start, and none is called ${name}`,
          remedy: `Call the one that belongs to it ${name}.`,
          about: [...of, ...like.map((m) => `measurement:${m.id}`)],
          stage: 'trial',
        }
      : {
          text: `${name} is not measured at the start`,
          remedy: `Plan ${name} at the start, in the same unit, and enter its values.`,
          about: of,
          stage: 'trial',
        };
  }
  if (index === 'relative-growth-rate') {
    const from = start.date ?? trial.startDate;
    const to = measurement.date ?? trial.harvestDate;
    const missing = [...(from ? [] : ['start date']), ...(to ? [] : ['harvest date'])];
    if (missing.length > 0) {
      return {
        text: `the plan has no ${missing.join(' and no ')}`,
        remedy: `Enter the ${list(missing)}.`,
        about: ['plan'],
        stage: 'trial',
      };
    }
    if (days === null || days <= 0) {
      return {
        text: `the harvest on ${to ?? ''} is not after the start on ${from ?? ''}`,
        remedy: 'Correct the dates.',
        about: ['plan'],
        stage: 'trial',
      };
    }
  }
  const later = Object.keys(records?.values[measurement.id] ?? {});
  const begun = records?.values[start.id] ?? {};
  if (later.length > 0 && !later.some((potId) => begun[potId] !== undefined)) {
    return {
      text: `${later.length} pots have a value of ${name}, but none has one at the start`,
      remedy: `Enter the values of ${start.name} at the start.`,
      about: [`measurement:${start.id}`],
      stage: 'records',
    };
  }
  return null;
}
