import type { Notice } from '../../../../shared-types/notice';
import type { Trial } from '../../../../shared-types/trial/trial';
import { unitWords } from '../../../../shared-types/trial/trial';
import type { TermPower } from './factors';
import { capital, figures, fixed, fieldNumber } from '../../../words';
import { assumedWords } from './assumedSpread';
import { trialNotice } from '../trialNotice';

/** Factors whose power falls short of what the plan wants. Silent where nothing is expected yet. */
export function powerNotices(trial: Trial, powers: readonly TermPower[]): Notice[] {
  const { expected } = trial;
  if (!expected) return [];
  const measured = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const unit = measured?.unit ? ` ${measured.unit}` : '';
  return powers.flatMap((factor): Notice[] => {
    const { power, factorIds } = factor;
    // An interaction asks for a difference between differences, which few trials are planned for.
    if (factorIds.length > 1 || power === null || power >= expected.power) return [];
    const more =
      factor.enough === null
        ? 'more units than were looked at'
        : `${factor.enough} ${unitWords[factor.unit].many} a level`;
    const assumed = assumedWords(factor.unit, expected, measured?.unit ?? '');
    return [
      trialNotice(
        'low-power',
        'warn',
        factorIds.map((id) => `factor:${id}`),
        `A difference of ${fieldNumber(expected.smallestDifference)}${unit} between levels of ${factor.name} would be found with a probability of only ${fixed(power, 2)}; the plan wants ${fixed(expected.power, 2)}. With ${factor.unitsPerLevel} ${unitWords[factor.unit].many} a level it takes ${figures(factor.detectable ?? Infinity, 3)}${unit}.${assumed === '' ? '' : ` ${capital(assumed)}: nobody said it.`}`,
        `Use more units (${more} would do), make the units more alike, or settle for a larger difference.`,
      ),
    ];
  });
}
