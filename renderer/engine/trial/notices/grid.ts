import type { Notice } from '../../../../shared-types/notice';
import { type Trial } from '../../../../shared-types/trial/trial';
import { positionTakes } from '../../../../shared-types/trial/position';
import { capital } from '../../../words';
import { schemeUsesGrid } from '../site/site';
import { trialNotice } from '../trialNotice';
import { schemeWords } from '../words';

/**
 * Why the planned analysis throws away what a scheme of rows and columns gains; else null. Straight
 * slopes stand in for the rows and columns, which enter beside any other model or are part of it.
 */
export function gridLeftOut(trial: Trial): { text: string; remedy: string } | null {
  const drawn = trial.factors.filter((factor) => factor.kind === 'randomised');
  const onPots = drawn.length > 0 && drawn.every((factor) => factor.unit === 'pot');
  if (!schemeUsesGrid(trial.scheme) || !onPots || positionTakes[trial.primaryPosition] !== 'slopes')
    return null;
  const words = capital(schemeWords[trial.scheme].name);
  return {
    text: `${words} balances the treatments over rows and columns, but the planned analysis allows for straight slopes only. The rest of rows and columns counts as chance, so real differences may go unseen.`,
    remedy: 'Let position enter the analysis as rows and columns.',
  };
}

export function gridNotices(trial: Trial): Notice[] {
  const words = gridLeftOut(trial);
  if (!words) return [];
  return [trialNotice('scheme-does-not-fit', 'warn', ['plan'], words.text, words.remedy)];
}
