import type { Box } from '../plane/box';
import type { Guide } from '../plane/guides';

/** What a gesture shows while it lasts. */
export interface GestureShow {
  guides: readonly Guide[];
  /** Frame of a marquee, or of a thing being drawn. */
  frame: Box | null;
  /** What the frame of a marquee would select. */
  framed?: readonly string[];
}

export const NOTHING_SHOWN: GestureShow = { guides: [], frame: null };
