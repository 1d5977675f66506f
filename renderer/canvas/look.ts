import type { PatternName } from '../ui/colour/palette';
import type { Severity } from '../../shared-types/notice';
import type { Rack } from '../../shared-types/rack';

/** What has become of a pot, drawn over it. */
export type PotMark = 'dead' | 'missing' | 'flagged';

/** How one pot is painted. */
export interface PotPaint {
  fill: string;
  /** Letter, code and pattern on the fill. */
  ink: string;
  pattern?: PatternName;
  /** One or two signs, such as the treatment's letter; longer ones are written as `text` is. */
  letter?: string;
  /** A figure or word, written where there is room, e.g. `12.4`. */
  text?: string;
  /** Said in the strip while the pointer is over the pot, e.g. `214 µmol m⁻² s⁻¹, estimated`. */
  words?: string;
  dim?: boolean;
  mark?: PotMark;
}

/** A quantity over one shelf, sampled on a grid. Row-major from the front left. */
export interface FieldOverlay {
  columns: number;
  rows: number;
  /** Place of the first sample. */
  xMm0: number;
  yMm0: number;
  stepMm: number;
  /** From row to row, where it differs from `stepMm`. */
  stepYMm?: number;
  /** `columns × rows` values. */
  values: Float64Array;
  /** CSS colour of a value. */
  colour: (value: number) => string;
  /** Lines of equal value, as closed or open rings of [xMm, yMm] on the shelf. */
  contours?: readonly {
    level: number;
    label: string;
    rings: readonly (readonly (readonly [number, number])[])[];
  }[];
}

/** A named area of one shelf, such as a block, made of rectangles. */
export interface BlockOutline {
  shelfId: string;
  name: string;
  rects: readonly { xMm: number; yMm: number; widthMm: number; depthMm: number }[];
}

/** A point on a shelf with a text beside it, such as a meter reading. */
export interface PointMark {
  /** What a click selects, e.g. `reading:r3`. */
  ref: string;
  shelfId: string;
  xMm: number;
  yMm: number;
  zMm?: number;
  text: string;
}

/**
 * How a stage paints the rack: plain data, so that the same canvas serves every stage. Refs are
 * those of a selection: `shelf:s1`, `tray:t2`, `lamp:l3`, `pot:t2:1:3`.
 */
export interface RackLook {
  /** The rack that is drawn, where it is not the plan's own: as treated, say. */
  rack?: Rack;
  /** By pot id. Pots that are not named are painted as bare pots. */
  potPaint?: ReadonlyMap<string, PotPaint>;
  /** By ref: said of a shelf, tray or lamp in the strip, as a pot's own words are. */
  words?: ReadonlyMap<string, string>;
  /** By shelf id. */
  field?: ReadonlyMap<string, FieldOverlay>;
  /** Things that a notice is about. */
  ringed: ReadonlyMap<string, Severity>;
  blocks?: readonly BlockOutline[];
  /** Depth of water standing in a tray, by tray id, mm. */
  waterMm?: ReadonlyMap<string, number>;
  points?: readonly PointMark[];
  /** Whether things can be moved: all of them, the lamps alone, or none. */
  editable: boolean | 'lamps';
}

export const BARE_LOOK: RackLook = { ringed: new Map(), editable: true };
