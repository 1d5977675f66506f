import { z } from 'zod';
import type { Paper } from '../../../shared-types/paper';
import {
  defaultOptions,
  type LabelOptions,
  type PrintableName,
  type PrintOptions,
} from '../../print';
import { useKept, type Kept } from '../../store/context';

/** What is printed, and how: labels and printer stay the same from visit to visit. */
export const PRINTED: Kept<PrintableName> = { name: 'chart.printed', initial: 'tray-charts' };
export const PRINT_OPTIONS: Kept<PrintOptions> = {
  name: 'chart.options',
  initial: defaultOptions('A4'),
};

/** Whether pages are made without treatments; then the rack beside them tells none either. */
export function useBlinded(): boolean {
  const [options] = useKept(PRINT_OPTIONS);
  return options.blinded;
}

const sizeMm = z.number().min(0).max(300);
const shiftMm = z.number().min(-10).max(10);
const labelsSchema = z.object({
  geometry: z.object({
    columns: z.int().min(1).max(100),
    rows: z.int().min(1).max(100),
    widthMm: sizeMm.min(10),
    heightMm: sizeMm.min(10),
    gapXMm: sizeMm,
    gapYMm: sizeMm,
    leftMm: sizeMm,
    topMm: sizeMm,
    shape: z.enum(['rectangle', 'round', 'stake']),
    cutLines: z.boolean(),
  }),
  show: z.enum(['treatment', 'pot']),
  symbol: z.enum(['qr', 'data-matrix', 'none']),
  shiftXMm: shiftMm,
  shiftYMm: shiftMm,
});

/** Choices of labels as this computer has kept them, begun on a new sheet; null: none that fit. */
export function readLabels(kept: unknown): LabelOptions | null {
  const read = labelsSchema.safeParse(kept);
  return read.success ? { ...read.data, startCell: 1 } : null;
}

/** Options of a new session with the labels that are used on this computer. */
export function printOptionsWith(paper: Paper, labels: LabelOptions): PrintOptions {
  return { ...defaultOptions(paper), labels };
}
