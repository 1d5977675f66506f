/** What several things are lined up by; the last two are heights and for lamps alone. */
export const alignments = [
  'left',
  'centre',
  'right',
  'front',
  'middle',
  'back',
  'lowest',
  'highest',
] as const;
export type Alignment = (typeof alignments)[number];

export const alignmentWords: Record<Alignment, string> = {
  left: 'Left sides',
  centre: 'Middles, left to right',
  right: 'Right sides',
  front: 'Front sides',
  middle: 'Middles, front to back',
  back: 'Back sides',
  lowest: 'At the lowest lamp',
  highest: 'At the highest lamp',
};

/** Along what equal gaps are made. */
export const spreadDirections = ['across', 'depth'] as const;
export type SpreadDirection = (typeof spreadDirections)[number];

export const spreadWords: Record<SpreadDirection, string> = {
  across: 'Left to right',
  depth: 'Front to back',
};
