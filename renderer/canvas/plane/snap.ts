import {
  middleOf,
  otherAxis,
  SAME_MM,
  spanAlong,
  spansOverlap,
  type Axis,
  type AxisSpan,
} from './axis';
import type { Box } from './box';
import { alignedGuides, type Guide } from './guides';

/** Smallest shift that brings an edge to an edge or a centre to a centre; edges win a tie. */
function shiftToLines(moving: AxisSpan, others: readonly AxisSpan[]): number | null {
  let best: number | null = null;
  const offer = (shift: number) => {
    if (best === null || Math.abs(shift) < Math.abs(best) - SAME_MM) best = shift;
  };
  for (const o of others) {
    for (const mine of [moving.from, moving.to]) {
      for (const theirs of [o.from, o.to]) offer(theirs - mine);
    }
  }
  for (const o of others) offer(middleOf(o) - middleOf(moving));
  return best;
}

interface Spacing {
  shift: number;
  /** Two gaps that are equal after the shift. */
  gaps: readonly [AxisSpan, AxisSpan];
}

/**
 * Places at which the moving span is spaced like its neighbours: midway between two, or as far from
 * one as that one is from the next. The container's ends count as neighbours of no width.
 */
function spacings(
  moving: AxisSpan,
  siblings: readonly AxisSpan[],
  container: AxisSpan | null,
): Spacing[] {
  const ends: AxisSpan[] = container
    ? [
        { from: container.from, to: container.from },
        { from: container.to, to: container.to },
      ]
    : [];
  const row = [...siblings, ...ends].sort((a, b) => a.from - b.from || a.to - b.to);
  const size = moving.to - moving.from;
  const found: Spacing[] = [];
  const offer = (from: number, a: AxisSpan, b: AxisSpan) => {
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
    const mine = spanAlong(moving, axis);
    const line = shiftToLines(
      mine,
      others.map((o) => spanAlong(o, axis)),
    );
    const inRow = siblings
      .filter((s) =>
        spansOverlap(spanAlong(s, otherAxis(axis)), spanAlong(moving, otherAxis(axis))),
      )
      .map((s) => spanAlong(s, axis));
    const spaced = spacings(mine, inRow, container ? spanAlong(container, axis) : null).sort(
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
  const guides = ask.axes.flatMap((axis) => alignedGuides(moved, others, axis));
  for (const { axis, spacing } of chosen) {
    const at = middleOf(spanAlong(moved, otherAxis(axis)));
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
    const s = spanAlong(o, axis);
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

/** A shift to whole steps of the displayed system: 1 mm, or 1/16 in. */
export function wholeStep(mm: number, system: 'metric' | 'imperial'): number {
  const step = system === 'metric' ? 1 : 25.4 / 16;
  return Math.round(mm / step) * step;
}
