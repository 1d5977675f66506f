import type { DrainPlace } from '../../../shared-types/landmarks';

/** Shares of a tray's width and depth at which its drain stands. */
const SHARES: Record<DrainPlace, readonly [number, number]> = {
  'front-left': [0, 0],
  front: [0.5, 0],
  'front-right': [1, 0],
  left: [0, 0.5],
  middle: [0.5, 0.5],
  right: [1, 0.5],
  'back-left': [0, 1],
  back: [0.5, 1],
  'back-right': [1, 1],
};

/** Where a tray's drain stands, from the tray's front left corner; null: not said. */
export function drainPoint(tray: {
  widthMm: number;
  depthMm: number;
  drainPlace?: DrainPlace | undefined;
}): { xMm: number; yMm: number } | null {
  if (tray.drainPlace === undefined) return null;
  const [x, y] = SHARES[tray.drainPlace];
  return { xMm: x * tray.widthMm, yMm: y * tray.depthMm };
}
