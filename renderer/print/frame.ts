import type { Plan } from '../../shared-types/plan';
import { hasSeveralRuns, runName } from '../document/runs';
import { MARGIN_MM, sheetMm, type Sheet } from './paper';
import { ptToMm, wrapText } from './text';
import type { UnitSystem } from '../words';
import { sayDay } from '../words';

/** What stands on every page. */
export interface Frame {
  /** Plan title. */
  title: string;
  /** Run where there are several, seed and date of the draw. */
  origin: string;
  /** Units of the figures on the page. */
  lengths: UnitSystem;
}

/** Title, run where there are several, seed and date of the draw. */
export function pageFrameOf(plan: Plan): Frame {
  const layout = plan.layout;
  const drawn = layout
    ? `seed “${layout.seed}”, drawn ${sayDay(layout.drawnAt)}`
    : 'no layout drawn';
  const origin = hasSeveralRuns(plan) ? `${runName(plan)}, ${drawn}` : drawn;
  return { title: plan.title, origin, lengths: plan.display.lengths };
}

export const ORIGIN_MM = ptToMm(9);
const HEADING_MM = 7.4;
const ORIGIN_LINE_MM = 4;
const FOOT_MM = 6;

/** Lines of title and origin under a page's heading. */
export function originLines(frame: Frame, sheet: Sheet): string[] {
  const width = sheetMm(sheet).width - 2 * MARGIN_MM;
  return wrapText(`${frame.title} – ${frame.origin}`, ORIGIN_MM, width);
}

export function headMm(frame: Frame, sheet: Sheet): number {
  return HEADING_MM + originLines(frame, sheet).length * ORIGIN_LINE_MM + 2.5;
}

/** Room between head and foot of a page, mm. */
export function bodyMm(frame: Frame, sheet: Sheet): { width: number; height: number } {
  const { width, height } = sheetMm(sheet);
  return {
    width: width - 2 * MARGIN_MM,
    height: height - 2 * MARGIN_MM - headMm(frame, sheet) - FOOT_MM,
  };
}

export const frameLines = { headingMm: HEADING_MM, originLineMm: ORIGIN_LINE_MM, footMm: FOOT_MM };
