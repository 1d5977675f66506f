import { z } from 'zod';
import type { Paper } from '../../../shared-types/paper';
import {
  labelContents,
  labelSheetSchema,
  printerFitSchema,
  printerSchema,
  symbolKinds,
  type Printer,
  type PrinterFit,
} from '../../../shared-types/window/printing';
import {
  defaultOptions,
  EXACT_PRINTER,
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

/** The printers of this computer, and which of them is used. */
export interface Printers {
  chosen: string;
  list: readonly Printer[];
}

export const PRINTERS: Kept<Printers> = {
  name: 'chart.printers',
  initial: { chosen: 'my printer', list: [{ name: 'my printer', fit: EXACT_PRINTER }] },
};

export const chosenFit = ({ chosen, list }: Printers): PrinterFit =>
  list.find(({ name }) => name === chosen)?.fit ?? EXACT_PRINTER;

const labelsSchema = z.object({
  geometry: labelSheetSchema,
  show: z.enum(labelContents),
  symbol: z.enum(symbolKinds),
});

/** Choices of labels as this computer has kept them, begun on a new sheet; null: none that fit. */
export function readLabels(kept: unknown): LabelOptions | null {
  const read = labelsSchema.safeParse(kept);
  return read.success ? { ...read.data, startCell: 1 } : null;
}

const printersSchema = z.object({
  chosen: z.string(),
  list: z.array(printerSchema).min(1).max(50),
});

const shiftSchema = printerFitSchema.pick({ shiftXMm: true, shiftYMm: true }).strip();

/**
 * Printers as this computer has kept them; null: none that fit. `labels`: what it kept of labels, among
 * which the shift of the one printer once stood.
 */
export function readPrinters(kept: unknown, labels: unknown): Printers | null {
  const read = printersSchema.safeParse(kept);
  if (read.success) return read.data;
  const shift = shiftSchema.safeParse(labels);
  if (!shift.success) return null;
  const { chosen } = PRINTERS.initial;
  return { chosen, list: [{ name: chosen, fit: { ...EXACT_PRINTER, ...shift.data } }] };
}

/** Options of a new session with the labels that are used on this computer. */
export function printOptionsWith(paper: Paper, labels: LabelOptions): PrintOptions {
  return { ...defaultOptions(paper), labels };
}
