import { middleOf, otherAxis, SAME_MM, spanAlong, spansOverlap, type Axis } from './axis';
import type { Box } from './box';

/**
 * What is drawn while something is dragged: a line along which edges or centres agree, a gap that
 * equals another gap, or a plain measure. `at` is the place on the other axis.
 */
export interface Guide {
  kind: 'line' | 'gap' | 'measure';
  axis: Axis;
  from: number;
  to: number;
  at: number;
}

/** Guides along which the moved box now agrees with others on one axis. */
export function alignedGuides(moved: Box, others: readonly Box[], axis: Axis): Guide[] {
  const mine = spanAlong(moved, axis);
  const cross = spanAlong(moved, otherAxis(axis));
  const guides: Guide[] = [];
  const add = (at: number, o: Box) => {
    const theirs = spanAlong(o, otherAxis(axis));
    const from = Math.min(cross.from, theirs.from);
    const to = Math.max(cross.to, theirs.to);
    const known = guides.find((g) => Math.abs(g.at - at) < SAME_MM);
    if (known) {
      known.from = Math.min(known.from, from);
      known.to = Math.max(known.to, to);
    } else {
      // A line at a place on this axis runs along the other one.
      guides.push({ kind: 'line', axis: otherAxis(axis), from, to, at });
    }
  };
  for (const o of others) {
    const s = spanAlong(o, axis);
    for (const at of [mine.from, mine.to]) {
      if (Math.abs(at - s.from) < SAME_MM || Math.abs(at - s.to) < SAME_MM) add(at, o);
    }
    if (Math.abs(middleOf(mine) - middleOf(s)) < SAME_MM) add(middleOf(mine), o);
  }
  return guides;
}

/** Lines on which the edges of a resized box agree with others. */
export function edgeGuides(box: Box, others: readonly Box[], axes: readonly Axis[]): Guide[] {
  return axes.flatMap((axis) => alignedGuides(box, others, axis));
}

/**
 * Clear distances from a box to what lies next to it on each side: the nearest sibling in the same
 * row, else the container's side. Sides that touch are left out.
 */
export function clearMeasures(
  box: Box,
  siblings: readonly Box[],
  container: Box | null,
  axes: readonly Axis[],
): Guide[] {
  return axes.flatMap((axis) => {
    const mine = spanAlong(box, axis);
    const cross = spanAlong(box, otherAxis(axis));
    const inRow = siblings
      .filter((s) => spansOverlap(spanAlong(s, otherAxis(axis)), cross))
      .map((s) => spanAlong(s, axis));
    const ends = container ? spanAlong(container, axis) : null;
    const before = [
      ...inRow.map((s) => s.to).filter((to) => to <= mine.from + SAME_MM),
      ...(ends && ends.from <= mine.from ? [ends.from] : []),
    ];
    const after = [
      ...inRow.map((s) => s.from).filter((from) => from >= mine.to - SAME_MM),
      ...(ends && ends.to >= mine.to ? [ends.to] : []),
    ];
    const measures: Guide[] = [];
    const add = (from: number, to: number) => {
      if (to - from > 0.5) measures.push({ kind: 'measure', axis, from, to, at: middleOf(cross) });
    };
    if (before.length > 0) add(Math.max(...before), mine.from);
    if (after.length > 0) add(mine.to, Math.min(...after));
    return measures;
  });
}

/** Width and depth (or height) of a box, drawn along its lower and right sides. */
export function sizeMeasures(box: Box, axes: readonly Axis[]): Guide[] {
  return axes.map((axis) => {
    const s = spanAlong(box, axis);
    return {
      kind: 'measure' as const,
      axis,
      from: s.from,
      to: s.to,
      at: axis === 'across' ? box.bottom : box.right,
    };
  });
}
