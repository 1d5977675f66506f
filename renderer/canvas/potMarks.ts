import type { Mark } from '../../shared-types/records';
import type { PotMark } from './look';

/** How what has become of a plant is drawn over its pot. */
export const DRAWN_MARK: Record<Mark['mark'], PotMark> = {
  dead: 'dead',
  missing: 'missing',
  excluded: 'flagged',
};

/** What each drawing looks like, for legends: what `paintPot` draws, in words. */
export const MARK_LOOKS: Record<PotMark, string> = {
  dead: 'crossed out',
  missing: 'empty dashed ring',
  flagged: 'dark triangle',
};
