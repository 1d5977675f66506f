import type { PotGrid } from '../../../shared-types/rack';

/** Pots that are to stand in a tray: how many, how wide, and whether rows are staggered. */
export type PotsAsked = Pick<PotGrid, 'rows' | 'columns' | 'pattern' | 'potDiameterMm'>;
type Inside = { widthMm: number; depthMm: number };

/** How so many pots stand in a tray, spread evenly over the whole of it. */
export interface SpreadPots {
  rows: number;
  columns: number;
  pitchXMm: number;
  pitchYMm: number;
  firstXMm: number;
  firstYMm: number;
}

/** Figures are kept to a tenth of a millimetre; rounded down, so that no pot leaves the tray. */
const tenthBelow = (mm: number): number => Math.floor(mm * 10 + 1e-6) / 10;

/** Pitches that a row takes up: staggered rows begin half a pitch further in. */
const pitchesAcross = ({ rows, columns, pattern }: PotsAsked): number =>
  columns + (pattern === 'staggered' && rows > 1 ? 0.5 : 0);

/** The widest pot of which so many stand in the tray without touching its sides or each other. */
export function largestPotMm(tray: Inside, asked: PotsAsked): number {
  return tenthBelow(Math.min(tray.widthMm / pitchesAcross(asked), tray.depthMm / asked.rows));
}

/**
 * The pitch at which the pots asked for fill the tray evenly, half a pitch from its sides; null where
 * they do not fit even when they touch. Staggered rows keep only their pitch, not an equal distance
 * from pot to pot.
 */
export function spreadPots(tray: Inside, asked: PotsAsked): SpreadPots | null {
  const { rows, columns } = asked;
  const pitchXMm = tenthBelow(tray.widthMm / pitchesAcross(asked));
  const pitchYMm = tenthBelow(tray.depthMm / rows);
  if (Math.min(pitchXMm, pitchYMm) < asked.potDiameterMm) return null;
  const first = (spanMm: number, pitches: number, pitchMm: number) =>
    tenthBelow((spanMm - (pitches - 1) * pitchMm) / 2);
  return {
    rows,
    columns,
    pitchXMm,
    pitchYMm,
    firstXMm: first(tray.widthMm, pitchesAcross(asked), pitchXMm),
    firstYMm: first(tray.depthMm, rows, pitchYMm),
  };
}

/** The largest grid, no larger than asked for, that stands in the tray; null where not one pot does. */
export function mostPots(tray: Inside, asked: PotsAsked): PotsAsked | null {
  const { potDiameterMm } = asked;
  const along = (spanMm: number): number => Math.floor(spanMm / potDiameterMm + 1e-9);
  const rows = Math.min(asked.rows, along(tray.depthMm));
  const half = asked.pattern === 'staggered' && rows > 1 ? potDiameterMm / 2 : 0;
  const columns = Math.min(asked.columns, along(tray.widthMm - half));
  return rows < 1 || columns < 1 ? null : { ...asked, rows, columns };
}
