import type { Box } from './box';

export type Axis = 'across' | 'up';

/** What a thing takes up along one axis, mm. */
export interface AxisSpan {
  from: number;
  to: number;
}

/** Closer than this two places are one. */
export const SAME_MM = 0.01;

export const spanAlong = (box: Box, axis: Axis): AxisSpan =>
  axis === 'across' ? { from: box.left, to: box.right } : { from: box.bottom, to: box.top };
export const otherAxis = (axis: Axis): Axis => (axis === 'across' ? 'up' : 'across');
export const middleOf = (s: AxisSpan) => (s.from + s.to) / 2;
export const spansOverlap = (a: AxisSpan, b: AxisSpan) => a.from < b.to && b.from < a.to;
