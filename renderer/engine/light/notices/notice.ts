import { noticesOfStage } from '../../../words';

/** A notice of the light stage. */
export const notice = noticesOfStage('light');
