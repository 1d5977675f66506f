import type { Box, Point } from '../plane/box';
import type { Pixel, Viewport } from '../plane/viewport';
import { toPixel } from '../plane/viewport';
import type { Thing, ViewName } from '../plane/things';
import { fromAbove } from '../plane/things';
import type { Axis } from '../plane/axis';
import type { Guide } from '../plane/guides';
import { edgeGuides, sizeMeasures } from '../plane/guides';
import { snapEdge, wholeStep } from '../plane/snap';
import type { PointerKeys } from './moveArithmetic';
import type { UnitSystem } from '../../words';

/** Which sides of a box a handle moves. */
export interface Handle {
  name: string;
  across: 'left' | 'right' | null;
  up: 'bottom' | 'top' | null;
}

const handle = (across: Handle['across'], up: Handle['up']): Handle => ({
  name: [up, across].filter(Boolean).join('-'),
  across,
  up,
});

const ALL: readonly Handle[] = [
  handle('left', 'bottom'),
  handle(null, 'bottom'),
  handle('right', 'bottom'),
  handle('left', null),
  handle('right', null),
  handle('left', 'top'),
  handle(null, 'top'),
  handle('right', 'top'),
];

/**
 * Handles of a thing. A shelf's front left corner is where its axes begin, so it grows to the right
 * and to the back (from the front: to the right, and its bay upwards). A tray stands on its shelf.
 */
export function handlesOf(kind: Thing['kind'], view: ViewName): readonly Handle[] {
  if (kind === 'lamp' || kind === 'board') return [];
  if (kind === 'shelf') {
    return ALL.filter((h) => h.across !== 'left' && h.up !== 'bottom');
  }
  return fromAbove(view) ? ALL : ALL.filter((h) => h.up !== 'bottom');
}

/** The box that a thing's handles sit on: a shelf's bay from the front, its outline otherwise. */
export function handleBox(thing: Thing, view: ViewName): Box {
  return thing.kind === 'shelf' && view === 'front' ? thing.bay : thing.box;
}

export function handlePixel(view: Viewport, box: Box, h: Handle): Pixel {
  const middleAcross = (box.left + box.right) / 2;
  const middleUp = (box.bottom + box.top) / 2;
  return toPixel(view, {
    across: h.across === null ? middleAcross : box[h.across],
    up: h.up === null ? middleUp : box[h.up],
  });
}

/** Whether the thing is large enough on the screen for its handles; corners stay when it is small. */
export function shownHandles(
  handles: readonly Handle[],
  box: Box,
  view: Viewport,
): readonly Handle[] {
  const w = (box.right - box.left) * view.scale;
  const h = (box.top - box.bottom) * view.scale;
  return handles.filter((each) => {
    if (each.across !== null && each.up !== null) return w >= 14 || h >= 14;
    return each.up === null ? h >= 22 || handles.every((o) => o.up === null) : w >= 44;
  });
}

/** The handle within reach of a pixel; corners win over sides. */
export function handleAt(
  handles: readonly Handle[],
  box: Box,
  view: Viewport,
  at: Pixel,
  reachPx = 9,
): Handle | null {
  const near = shownHandles(handles, box, view).filter((h) => {
    const p = handlePixel(view, box, h);
    return Math.abs(p.x - at.x) <= reachPx && Math.abs(p.y - at.y) <= reachPx;
  });
  return near.find((h) => h.across !== null && h.up !== null) ?? near[0] ?? null;
}

/** The mouse cursor over a handle. */
export function handleCursor(h: Handle): string {
  if (h.across === null) return 'ns-resize';
  if (h.up === null) return 'ew-resize';
  return (h.across === 'left') === (h.up === 'top') ? 'nwse-resize' : 'nesw-resize';
}

/**
 * The box after a handle has been dragged: never smaller than `leastMm`, each moved side in whole
 * steps or snapped to a neighbour's side. Shift keeps the proportions of a corner drag.
 */
export function resized(
  box: Box,
  h: Handle,
  from: Point,
  to: Point,
  keys: PointerKeys,
  others: readonly Box[],
  toleranceMm: number,
  lengths: UnitSystem,
  leastMm = 20,
): { box: Box; guides: Guide[] } {
  const next = { ...box };
  const axes: Axis[] = [];
  const side = (axis: Axis, moved: 'left' | 'right' | 'bottom' | 'top', by: number) => {
    const raw = box[moved] + by;
    const fixed = box[opposite(moved)];
    const snapped = keys.ctrl ? raw : snapEdge(raw, axis, others, toleranceMm);
    const settled = snapped !== raw ? snapped : fixed + wholeStep(raw - fixed, lengths);
    const grows = moved === 'right' || moved === 'top';
    next[moved] = grows ? Math.max(settled, fixed + leastMm) : Math.min(settled, fixed - leastMm);
    axes.push(axis);
  };
  if (h.across) side('across', h.across, to.across - from.across);
  if (h.up) side('up', h.up, to.up - from.up);
  if (keys.shift && h.across && h.up) {
    const ratio = (box.top - box.bottom) / (box.right - box.left);
    const height = (next.right - next.left) * ratio;
    if (h.up === 'top') next.top = next.bottom + height;
    else next.bottom = next.top - height;
  }
  return {
    box: next,
    guides: [...(keys.ctrl ? [] : edgeGuides(next, others, axes)), ...sizeMeasures(next, axes)],
  };
}

function opposite(side: 'left' | 'right' | 'bottom' | 'top') {
  switch (side) {
    case 'left':
      return 'right';
    case 'right':
      return 'left';
    case 'bottom':
      return 'top';
    case 'top':
      return 'bottom';
  }
}
