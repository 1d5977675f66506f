import type { PrinterFit } from '../../shared-types/window/printing';
import type { LabelOptions } from './labels/options';
import type { Paper } from './paper';

/** What the person chooses at the printer; none of it belongs to the plan. */
export interface PrintOptions {
  paper: Paper;
  /** Codes instead of treatments; what they mean is on the sealed key alone. */
  blinded: boolean;
  /** Turned about, for somebody who stands behind the rack. */
  behind: boolean;
  /** The last earlier value in grey on recording sheets. */
  previous: boolean;
  /** On charts of a tray, a line of what was logged for it; never on blinded ones. */
  log: boolean;
  /** These measurements only on recording sheets, by id; null: all. */
  measurementIds: readonly string[] | null;
  /** These trays only, by id; null: all. */
  trayIds: readonly string[] | null;
  labels: LabelOptions;
  /** How the printer departs from what it is told. */
  printer: PrinterFit;
}
