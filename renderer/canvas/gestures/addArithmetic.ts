import type { PotGrid, Rack, Tray } from '../../../shared-types/rack';
import { newGrid } from '../../document/new';
import type { Box, Point } from '../plane/box';
import { boxBetween, heightOf, widthOf } from '../plane/box';
import { wholeStep } from '../plane/snap';
import type { UnitSystem } from '../../words';

/** A drag shorter than this is a click: the thing gets its usual size. */
export const CLICK_MM = 15;

export type PotMeasure = Pick<
  PotGrid,
  'pattern' | 'pitchXMm' | 'pitchYMm' | 'potDiameterMm' | 'potHeightMm'
>;

/** The pots last drawn on the rack, by which a new grid starts; nothing for the first one. */
export function lastPots(rack: Rack): Partial<PotMeasure> {
  const last = rack.shelves.flatMap((s) => s.trays.flatMap((t) => t.grid ?? [])).at(-1);
  if (!last) return {};
  const { pattern, pitchXMm, pitchYMm, potDiameterMm, potHeightMm } = last;
  return { pattern, pitchXMm, pitchYMm, potDiameterMm, potHeightMm };
}

/**
 * As many pots as fit in a rectangle of a tray, centred in it. The rectangle is in the tray's own
 * axes, from its front left corner.
 */
export function gridInBox(box: Box, pots: Partial<PotMeasure>): PotGrid {
  const grid = newGrid({ widthMm: widthOf(box), depthMm: heightOf(box) }, pots);
  return {
    ...grid,
    firstXMm: round(box.left + grid.firstXMm),
    firstYMm: round(box.bottom + grid.firstYMm),
  };
}

/** The same pots, as many as fit the whole tray; hand-picked pots and the guard ring start anew. */
export function gridFittedToTray(
  tray: Pick<Tray, 'widthMm' | 'depthMm'>,
  pots: Partial<PotMeasure>,
): PotGrid {
  return gridInBox({ left: 0, right: tray.widthMm, bottom: 0, top: tray.depthMm }, pots);
}

// Figures are typed and shown to a tenth of a millimetre.
const round = (mm: number) => Math.round(mm * 10) / 10;

/** Rectangle dragged on a shelf, cut to the shelf and settled to whole steps; null for a click. */
export function draggedBox(
  from: Point,
  to: Point,
  within: Box | null,
  lengths: UnitSystem,
): Box | null {
  const raw = boxBetween(from, to);
  const clip = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));
  const box: Box = within
    ? {
        left: clip(raw.left, within.left, within.right),
        right: clip(raw.right, within.left, within.right),
        bottom: clip(raw.bottom, within.bottom, within.top),
        top: clip(raw.top, within.bottom, within.top),
      }
    : raw;
  const settled: Box = {
    left: wholeStep(box.left, lengths),
    right: wholeStep(box.right, lengths),
    bottom: wholeStep(box.bottom, lengths),
    top: wholeStep(box.top, lengths),
  };
  return widthOf(settled) < CLICK_MM && heightOf(settled) < CLICK_MM ? null : settled;
}

/** A box of a given size about a point, pushed inside the shelf where it fits. */
export function boxAbout(
  at: Point,
  widthMm: number,
  depthMm: number,
  within: Box,
  lengths: UnitSystem,
): Box {
  const push = (centre: number, size: number, low: number, high: number) =>
    size >= high - low ? low : Math.min(high - size, Math.max(low, centre - size / 2));
  const left = wholeStep(push(at.across, widthMm, within.left, within.right), lengths);
  const bottom = wholeStep(push(at.up, depthMm, within.bottom, within.top), lengths);
  return { left, right: left + widthMm, bottom, top: bottom + depthMm };
}
