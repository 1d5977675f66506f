import type { Plan } from '../../../shared-types/plan';
import type { Notice } from '../../../shared-types/notice';
import type { Application, Factor } from '../../../shared-types/trial/trial';
import { list, noticesOfStage, plural } from '../../words';
import { potsOfRack } from '../geometry';
import { byHandAgainst } from './byHand';
import { effectKey } from './effect';
import type { TreatedFrom } from './treated';

const trialNotice = noticesOfStage('trial');

/** What is alike where levels do not differ; null: levels need no settings. */
const sameWhat: Record<Application, string | null> = {
  light: 'lamps and hours',
  water: 'solution, depth and schedule',
  medium: 'medium',
  plant: null,
  hand: null,
};

export type NoticesFrom = TreatedFrom & Pick<Plan, 'light' | 'display'>;

/** Levels whose settings do not differ, that say nothing, or that the rack as drawn contradicts. */
export function treatedNotices(from: NoticesFrom): Notice[] {
  if (potsOfRack(from.rack).length === 0) return [];
  return from.factors.flatMap((factor) => {
    const what = factor.appliedThrough && sameWhat[factor.appliedThrough];
    if (!what || factor.levels.length < 2) return [];
    if (factor.levels.every(({ settings }) => settings === undefined)) return unsaid(factor, what);
    return [...alike(from, factor, what), ...byHand(from, factor)];
  });
}

function unsaid(factor: Factor, what: string): Notice[] {
  if (factor.kind !== 'randomised') return [];
  return [
    trialNotice(
      'treatment-not-applied',
      'note',
      [`factor:${factor.id}`],
      `It is not said what the levels of ${factor.name} set. Every level is computed with the same ${what}, as drawn.`,
      `Open ${factor.name} in the trial stage and say what each level gets.`,
    ),
  ];
}

function alike(from: NoticesFrom, factor: Factor, what: string): Notice[] {
  const groups = new Map<string, string[]>();
  for (const level of factor.levels) {
    const key = effectKey(from, factor, level);
    groups.set(key, [...(groups.get(key) ?? []), level.name]);
  }
  const same = [...groups.values()].filter((names) => names.length > 1);
  if (same.length === 0) return [];
  return [
    trialNotice(
      'treatment-not-applied',
      'warn',
      [`factor:${factor.id}`],
      `${list(same.map(list))} of ${factor.name} get the same ${what}. Nothing that is set here can make their plants differ.`,
      `Open ${factor.name} in the trial stage and give each level settings of its own.`,
    ),
  ];
}

function byHand(from: NoticesFrom, factor: Factor): Notice[] {
  if (factor.kind !== 'fixed') return [];
  const against = byHandAgainst(from, factor);
  if (against.length === 0) return [];
  return [
    trialNotice(
      'treatment-not-applied',
      'warn',
      [`factor:${factor.id}`],
      `The rack is drawn otherwise than ${factor.name} says in ${plural(against.length, 'place')}: ${list(against)}. What is computed follows the levels.`,
      'Set the rack as the levels say, or put the settings right in the trial stage.',
      'set-rack-by-levels',
    ),
  ];
}
