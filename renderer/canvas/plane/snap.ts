import type { Box } from './box';

export type Axis = 'across' | 'up';

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

interface Span {
  from: number;
  to: number;
}

/** Closer than this two places are one. */
const SAME_MM = 0.01;

const span = (box: Box, axis: Axis): Span =>
  axis === 'across' ? { from: box.left, to: box.right } : { from: box.bottom, to: box.top };
const other = (axis: Axis): Axis => (axis === 'across' ? 'up' : 'across');
const middle = (s: Span) => (s.from + s.to) / 2;
const overlap = (a: Span, b: Span) => a.from < b.to && b.from < a.to;

/** Smallest shift that brings an edge to an edge or a centre to a centre; edges win a tie. */
function shiftToLines(moving: Span, others: readonly Span[]): number | null {
  let best: number | null = null;
  const offer = (shift: number) => {
    if (best === null || Math.abs(shift) < Math.abs(best) - SAME_MM) best = shift;
  };
  for (const o of others) {
    for (const mine of [moving.from, moving.to]) {
      for (const theirs of [o.from, o.to]) offer(theirs - mine);
    }
  }
  for (const o of others) offer(middle(o) - middle(moving));
  return best;
}

interface Spacing {
  shift: number;
  /** Two gaps that are equal after the shift. */
  gaps: readonly [Span, Span];
}

/**
 * Places at which the moving span is spaced like its neighbours: midway between two, or as far from
 * one as that one is from the next. The container's ends count as neighbours of no width.
 */
function spacings(moving: Span, siblings: readonly Span[], container: Span | null): Spacing[] {
  const ends: Span[] = container
    ? [
        { from: container.from, to: container.from },
        { from: container.to, to: container.to },
      ]
    : [];
  const row = [...siblings, ...ends].sort((a, b) => a.from - b.from || a.to - b.to);
  const size = moving.to - moving.from;
  const found: Spacing[] = [];
  const offer = (from: number, a: Span, b: Span) => {
    if (a.to - a.from > SAME_MM) found.push({ shift: from - moving.from, gaps: [a, b] });
  };
  for (let i = 0; i + 1 < row.length; i++) {
    const a = row[i];
    const b = row[i + 1];
    if (!a || !b) continue;
    const gap = b.from - a.to;
    const free = gap - size;
    if (free > SAME_MM) {
      const from = a.to + free / 2;
      offer(from, { from: a.to, to: from }, { from: from + size, to: b.from });
    }
    if (gap <= SAME_MM) continue;
    const between = { from: a.to, to: b.from };
    // Beyond b (or before a) at the same distance; an end of the container has no beyond.
    if (b.to - b.from > SAME_MM) {
      offer(b.to + gap, between, { from: b.to, to: b.to + gap });
    }
    if (a.to - a.from > SAME_MM) {
      offer(a.from - gap - size, { from: a.from - gap, to: a.from }, between);
    }
  }
  return found;
}

/** Guides along which the moved box now agrees with others on one axis. */
function agreeing(moved: Box, others: readonly Box[], axis: Axis): Guide[] {
  const mine = span(moved, axis);
  const cross = span(moved, other(axis));
  const guides: Guide[] = [];
  const add = (at: number, o: Box) => {
    const theirs = span(o, other(axis));
    const from = Math.min(cross.from, theirs.from);
    const to = Math.max(cross.to, theirs.to);
    const known = guides.find((g) => Math.abs(g.at - at) < SAME_MM);
    if (known) {
      known.from = Math.min(known.from, from);
      known.to = Math.max(known.to, to);
    } else {
      // A line at a place on this axis runs along the other one.
      guides.push({ kind: 'line', axis: other(axis), from, to, at });
    }
  };
  for (const o of others) {
    const s = span(o, axis);
    for (const at of [mine.from, mine.to]) {
      if (Math.abs(at - s.from) < SAME_MM || Math.abs(at - s.to) < SAME_MM) add(at, o);
    }
    if (Math.abs(middle(mine) - middle(s)) < SAME_MM) add(middle(mine), o);
  }
  return guides;
}

export interface SnapResult {
  byAcross: number;
  byUp: number;
  guides: Guide[];
}

export interface SnapAsk {
  moving: Box;
  /** Things of the same kind that stand still. */
  siblings: readonly Box[];
  /** What holds them: the shelf, or its bay. */
  container: Box | null;
  toleranceMm: number;
  /** Axes along which the thing may be moved. */
  axes: readonly Axis[];
}

/**
 * The small shift that lines a moving box up with its siblings and container: edges and centres
 * first, then equal spacing; on each axis the nearest within the tolerance.
 */
export function snapMove(ask: SnapAsk): SnapResult {
  const { moving, siblings, container, toleranceMm } = ask;
  const others = container ? [...siblings, container] : [...siblings];
  const shift: Record<Axis, number> = { across: 0, up: 0 };
  const chosen: { axis: Axis; spacing: Spacing }[] = [];
  for (const axis of ask.axes) {
    const mine = span(moving, axis);
    const line = shiftToLines(
      mine,
      others.map((o) => span(o, axis)),
    );
    const inRow = siblings
      .filter((s) => overlap(span(s, other(axis)), span(moving, other(axis))))
      .map((s) => span(s, axis));
    const spaced = spacings(mine, inRow, container ? span(container, axis) : null).sort(
      (a, b) => Math.abs(a.shift) - Math.abs(b.shift),
    )[0];
    const byLine = line !== null && Math.abs(line) <= toleranceMm ? line : null;
    const bySpacing = spaced && Math.abs(spaced.shift) <= toleranceMm ? spaced : null;
    if (
      byLine !== null &&
      (!bySpacing || Math.abs(byLine) <= Math.abs(bySpacing.shift) + SAME_MM)
    ) {
      shift[axis] = byLine;
      if (bySpacing && Math.abs(bySpacing.shift - byLine) < SAME_MM) {
        chosen.push({ axis, spacing: bySpacing });
      }
    } else if (bySpacing) {
      shift[axis] = bySpacing.shift;
      chosen.push({ axis, spacing: bySpacing });
    }
  }
  const moved: Box = {
    left: moving.left + shift.across,
    right: moving.right + shift.across,
    bottom: moving.bottom + shift.up,
    top: moving.top + shift.up,
  };
  const guides = ask.axes.flatMap((axis) => agreeing(moved, others, axis));
  for (const { axis, spacing } of chosen) {
    const at = middle(span(moved, other(axis)));
    for (const gap of spacing.gaps) {
      guides.push({ kind: 'gap', axis, from: gap.from, to: gap.to, at });
    }
  }
  return { byAcross: shift.across, byUp: shift.up, guides };
}

/** Place for one dragged edge: the nearest edge of a sibling or container within the tolerance. */
export function snapEdge(
  at: number,
  axis: Axis,
  others: readonly Box[],
  toleranceMm: number,
): number {
  let best = at;
  let least = toleranceMm;
  for (const o of others) {
    const s = span(o, axis);
    for (const edge of [s.from, s.to]) {
      const away = Math.abs(edge - at);
      if (away <= least) {
        best = edge;
        least = away;
      }
    }
  }
  return best;
}

/** Lines on which the edges of a resized box agree with others. */
export function edgeGuides(box: Box, others: readonly Box[], axes: readonly Axis[]): Guide[] {
  return axes.flatMap((axis) => agreeing(box, others, axis));
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
    const mine = span(box, axis);
    const cross = span(box, other(axis));
    const inRow = siblings
      .filter((s) => overlap(span(s, other(axis)), cross))
      .map((s) => span(s, axis));
    const ends = container ? span(container, axis) : null;
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
      if (to - from > 0.5) measures.push({ kind: 'measure', axis, from, to, at: middle(cross) });
    };
    if (before.length > 0) add(Math.max(...before), mine.from);
    if (after.length > 0) add(mine.to, Math.min(...after));
    return measures;
  });
}

/** Width and depth (or height) of a box, drawn along its lower and right sides. */
export function sizeMeasures(box: Box, axes: readonly Axis[]): Guide[] {
  return axes.map((axis) => {
    const s = span(box, axis);
    return {
      kind: 'measure' as const,
      axis,
      from: s.from,
      to: s.to,
      at: axis === 'across' ? box.bottom : box.right,
    };
  });
}

/** A shift to whole steps of the displayed system: 1 mm, or 1/16 in. */
export function wholeStep(mm: number, system: 'metric' | 'imperial'): number {
  const step = system === 'metric' ? 1 : 25.4 / 16;
  return Math.round(mm / step) * step;
}
