import { noticesOfStage } from '../../../words';

/** A notice of the light stage. */
export const lightNotice = noticesOfStage('light');
