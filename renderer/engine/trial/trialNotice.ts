import { noticesOfStage } from '../../words';

/** A notice of the trial stage. */
export const trialNotice = noticesOfStage('trial');
