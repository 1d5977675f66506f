import type { DayOrder, DecimalMark, ReadSheets, Separator, TableSheet } from '../../../tables';
import type { TableFormat } from './ImportFormat';

/** A file to import: text, or the sheets of a workbook. */
export type TableFile = { name: string } & ({ text: string } | { book: ReadSheets });

/** What is said of how a table is written. */
interface SaidOfFormat {
  headLine?: number | undefined;
  dayOrder?: DayOrder | undefined;
  decimal?: DecimalMark | undefined;
}

/** How a table is written and what changes it. */
export function tableFormat(state: {
  file: TableFile;
  separator: Separator | 'auto';
  setSeparator: (separator: Separator | 'auto') => void;
  sheets: readonly TableSheet[];
  sheet: TableSheet | undefined;
  setSheetName: (name: string) => void;
  said: SaidOfFormat;
  /** Says more of the table. */
  say: (more: Pick<SaidOfFormat, 'decimal' | 'dayOrder'>) => void;
  /** Forgets what was said of columns that are now others. */
  anew: (more: Pick<SaidOfFormat, 'headLine'>) => void;
  foundDecimal: DecimalMark | null;
  headLine: number | null;
  openDays: boolean;
}): TableFormat {
  const { file, separator, sheets, sheet, said, anew, foundDecimal, headLine } = state;
  return {
    separator: 'book' in file ? null : separator,
    decimal: said.decimal ?? 'auto',
    foundSeparator: sheet?.separator ?? null,
    foundDecimal,
    headLine,
    setDecimal: (decimal) => state.say({ decimal: decimal === 'auto' ? undefined : decimal }),
    setSeparator: (chosen) => {
      state.setSeparator(chosen);
      anew({});
    },
    sheets: sheets.map(({ name }) => name),
    sheet: sheet?.name ?? '',
    setSheet: (name) => {
      state.setSheetName(name);
      anew({});
    },
    lines: (sheet?.lines ?? []).slice(0, MOST_LINES).map(({ line, cells }) => ({
      line,
      text: cells.filter((cell) => cell.trim() !== '').join(' · '),
    })),
    setHeadLine: (line) => anew({ headLine: line }),
    dayOrder: said.dayOrder ?? null,
    openDays: state.openDays || said.dayOrder !== undefined,
    setDayOrder: (dayOrder) => state.say({ dayOrder }),
  };
}

const MOST_LINES = 15;
