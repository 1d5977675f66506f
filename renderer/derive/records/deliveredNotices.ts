import { deliveredMeasures } from '../../../shared-types/delivered';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { blindedSince } from '../../document/queries/blinding';
import { refTo } from '../../document/queries/refs';
import { capital, list, noticesOfStage } from '../../words';
import { deliveredIn, sayDriftDays, type DeliveredSpeech } from './deliveredWords';
import { deliveredLogOf, type DeliveredSeries, type DeliveredUneven } from './delivered';

const notice = noticesOfStage('records');
const LISTED = 4;

/** That units stayed away from their settings, or apart from those that should be alike. */
export function deliveredNotices(plan: Plan): Notice[] {
  const { series, uneven } = deliveredLogOf(plan);
  const blinded = blindedSince(plan) !== null;
  const { lengths } = plan.display;
  return [
    ...deliveredMeasures.flatMap((measure) => {
      const off = series.filter((one) => one.measure === measure && one.drift);
      return off.length === 0 ? [] : [offSetting(deliveredIn(measure, lengths), off, blinded)];
    }),
    ...uneven.map((one) => apart(deliveredIn(one.measure, lengths), one)),
  ];
}

function offSetting(
  { name, say }: DeliveredSpeech,
  off: readonly DeliveredSeries[],
  blinded: boolean,
): Notice {
  const said = off.slice(0, LISTED).flatMap(({ unit, drift }) => {
    if (!drift) return [];
    // A setting tells which treatment it is.
    const told = blinded
      ? 'away from its setting'
      : `${say(drift.mean)} on average, planned ${say(drift.expected)}`;
    return [`${capital(unit.name)}: ${name} ${told} (${sayDriftDays(drift)}).`];
  });
  const more = off.length - said.length;
  return notice(
    'delivered-off-setting',
    'warn',
    off.map(({ unit }) => refTo(unit.kind, unit.id)),
    [
      ...said,
      ...(more > 0 ? [`So were ${more} more units.`] : []),
      'That is more than the meter explains: these plants got another treatment than planned.',
    ].join(' '),
    'Bring it back to the setting, or correct the setting. Else give the logged figures beside the result, and accept this with the reason.',
  );
}

function apart(
  { name, say, sayApart }: DeliveredSpeech,
  { measure, high, low, drift }: DeliveredUneven,
): Notice {
  const both = list([
    `${say(drift.mean)} in ${high.name}`,
    `${say(drift.expected)} in ${low.name}`,
  ]);
  return notice(
    'delivered-uneven',
    'warn',
    [high, low].map(({ kind, id }) => refTo(kind, id)),
    `${measure === 'ph' ? name : capital(name)} should be alike, but was ${both} on average (${sayDriftDays(drift)}). Measurement error explains ${sayApart(drift.allowed)} at most. What differs between their plants may come from this.`,
    'Hold the meter into both on one day, and correct the one that is off. Else name the difference beside the result, and accept this with the reason.',
  );
}
