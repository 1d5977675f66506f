import type { Side } from '../../../shared-types/rack';

const BACK: Record<Side, Side> = { left: 'right', right: 'left', front: 'front', back: 'back' };

/**
 * The side of another shelf that looks back at a side. Side by side fronts stand in one line; back to
 * back, and front to front, the other stands turned round.
 */
export const looksBack = (side: Side): Side => BACK[side];
