/** What a person at the rack finds their way by: where a tray drains, where a lamp's lead leaves it. */

/** Where the drain stands in a tray, as seen by somebody in front. */
export const drainPlaces = [
  'front-left',
  'front',
  'front-right',
  'left',
  'middle',
  'right',
  'back-left',
  'back',
  'back-right',
] as const;
export type DrainPlace = (typeof drainPlaces)[number];
export const drainPlaceWords: Record<DrainPlace, string> = {
  'front-left': 'front left corner',
  front: 'front, in the middle',
  'front-right': 'front right corner',
  left: 'left, in the middle',
  middle: 'middle of the tray',
  right: 'right, in the middle',
  'back-left': 'back left corner',
  back: 'back, in the middle',
  'back-right': 'back right corner',
};

/** The end of a lamp that its lead comes out of, as it hangs unturned. */
export const leadEnds = ['left', 'right'] as const;
export type LeadEnd = (typeof leadEnds)[number];
