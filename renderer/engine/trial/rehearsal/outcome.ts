import type { Rate } from './tally';
import { chosenShare, formatShare } from '../../../words';

interface Outcome {
  name: string;
  runs: number;
  alpha: number;
  power: Rate | null;
  falseAlarm: Rate | null;
  potsAsUnits: { power: Rate; falseAlarm: Rate } | null;
}

// A false-alarm rate is called off where it lies so many Monte-Carlo errors from the nominal one.
const ERRORS_APART = 3;

/** What a term's rehearsal means, in words with the figures. */
export function sayOutcome(outcome: Outcome): string {
  const { name, runs, alpha, power, falseAlarm, potsAsUnits } = outcome;
  const naive = potsAsUnits?.falseAlarm.share ?? 0;
  const claims = `would cry a difference where there is none in ${formatShare(naive)} of trials, against ${chosenShare(alpha)} asked for`;
  if (!falseAlarm || !power) {
    const none = `${name} cannot be tested in this trial: its levels cannot be told from the units that carry them.`;
    if (!potsAsUnits) return none;
    const warning = `An analysis that takes each pot for an independent unit tests it all the same, and ${claims}.`;
    return naive > 2 * alpha
      ? `${none} ${warning} What it would find is the units, not ${name}.`
      : `${none} ${warning}`;
  }
  // Under the nominal rate, so that a share of 0 has an error too.
  const error = Math.sqrt((alpha * (1 - alpha)) / runs);
  const off = falseAlarm.share - alpha;
  const alarms =
    Math.abs(off) <= ERRORS_APART * error
      ? `${name}: false alarms as asked for (${formatShare(falseAlarm.share)}).`
      : off > 0
        ? `${name}: more false alarms (${formatShare(falseAlarm.share)}) than the ${chosenShare(alpha)} asked for; its p values will be too small.`
        : `${name}: fewer false alarms (${formatShare(falseAlarm.share)}) than the ${chosenShare(alpha)} asked for; its test is careful, and finds less than it might.`;
  return naive > 2 * alpha
    ? `${alarms} Taking each pot for an independent unit ${claims}.`
    : alarms;
}
