import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Incident } from '../../../shared-types/records';
import { refTo } from '../../document/queries/refs';
import { daysBetween } from '../../engine/calendar';
import { list, noticesOfStage, plural } from '../../words';

const notice = noticesOfStage('light');

/** A correction of lamps, boards or hours that came days after planting. */
export interface LightCorrection {
  date: string;
  /** Days under the light as it was before. */
  daysBefore: number;
  about: readonly string[];
}

/** Corrections after which the light is no longer what the plants first had, by their day. */
export function lightCorrectionsOf({
  layout,
  trial,
  records,
}: Pick<Plan, 'layout' | 'trial' | 'records'>): LightCorrection[] {
  const planted = layout?.plantedAt ?? null;
  if (planted === null) return [];
  const lit = (trial?.factors ?? []).filter(({ appliedThrough }) => appliedThrough === 'light');
  const ofLight = new Set(['plan', ...lit.map(({ id }) => refTo('factor', id))]);
  const changesLight = ({ kept, about }: Incident) =>
    kept === true && about.some((ref) => ofLight.has(ref) || ref.startsWith('shelf:'));
  return records.incidents
    .filter(changesLight)
    .map(({ date, about }) => ({ date, daysBefore: daysBetween(planted, date), about }))
    .filter(({ daysBefore }) => daysBefore > 0)
    .sort((a, b) => a.daysBefore - b.daysBefore);
}

/** That the time before a correction is not computed by itself; null where nothing was corrected. */
export function correctionWords(plan: Pick<Plan, 'layout' | 'trial' | 'records'>): string | null {
  const corrections = lightCorrectionsOf(plan);
  const last = corrections.at(-1);
  if (!last) return null;
  const days = [...new Set(corrections.map(({ date }) => date))];
  return `Lamps or hours of light were corrected after planting, on ${list(days)}. All light is computed with the corrected settings, also that of the ${plural(last.daysBefore, 'day')} before.`;
}

/** Light that is computed by later settings than plants had at first. */
export function correctionNotices(plan: Pick<Plan, 'layout' | 'trial' | 'records'>): Notice[] {
  const text = correctionWords(plan);
  if (text === null) return [];
  const about = lightCorrectionsOf(plan).flatMap((correction) => correction.about);
  return [
    notice(
      'light-corrected',
      'warn',
      [...new Set(about)],
      `${text} Light over the trial may differ from what the plants had.`,
      'Where the change was large, leave light out of the analysis, and name the change beside the result.',
    ),
  ];
}
