import { FieldRow, Select } from '../../../ui';
import { separatorNames, type DayOrder, type DecimalMark, type Separator } from '../../../tables';

const SEPARATORS: readonly Separator[] = [',', ';', '\t', '|'];
const MARKS: Record<DecimalMark, string> = { '.': 'point', ',': 'comma' };
const ORDERS: Record<DayOrder, string> = {
  'day-first': 'day first: 31/03',
  'month-first': 'month first: 03/31',
};
const MOST_SIGNS = 60;

/** How a table is written: as found and as the person says. */
export interface TableFormat {
  /** null: it is a workbook. */
  separator: Separator | 'auto' | null;
  foundSeparator: Separator | null;
  setSeparator: (separator: Separator | 'auto') => void;
  decimal: DecimalMark | 'auto';
  foundDecimal: DecimalMark | null;
  setDecimal: (decimal: DecimalMark | 'auto') => void;
  sheets: readonly string[];
  sheet: string;
  setSheet: (name: string) => void;
  /** Lines that may hold the names of the columns, with what stands in them. */
  lines: readonly { line: number; text: string }[];
  headLine: number | null;
  setHeadLine: (line: number) => void;
  dayOrder: DayOrder | null;
  openDays: boolean;
  setDayOrder: (order: DayOrder) => void;
}

export function ImportFormat({ format }: { format: TableFormat }) {
  const { foundSeparator, foundDecimal, headLine, sheets } = format;
  return (
    <FieldRow>
      {sheets.length > 1 ? (
        <Select
          label="Sheet"
          testId="import-sheet"
          value={format.sheet}
          options={sheets.map((name) => ({ value: name, label: name }))}
          onCommit={format.setSheet}
        />
      ) : null}
      {headLine === null ? null : (
        <Select
          label="Names of the columns in"
          testId="import-header"
          value={String(headLine)}
          options={format.lines.map(({ line, text }) => ({
            value: String(line),
            label: `line ${line}: ${text.length > MOST_SIGNS ? `${text.slice(0, MOST_SIGNS)}…` : text}`,
          }))}
          onCommit={(line) => format.setHeadLine(Number(line))}
        />
      )}
      {format.separator === null ? null : (
        <Select
          label="Columns separated by"
          testId="import-separator"
          value={format.separator}
          options={[
            {
              value: 'auto',
              label: asFound(foundSeparator && separatorNames[foundSeparator]),
            },
            ...SEPARATORS.map((value) => ({ value, label: separatorNames[value] })),
          ]}
          onCommit={format.setSeparator}
        />
      )}
      <Select
        label="Decimals after"
        testId="import-decimal"
        value={format.decimal}
        options={[
          { value: 'auto', label: asFound(foundDecimal && MARKS[foundDecimal]) },
          { value: '.', label: MARKS['.'] },
          { value: ',', label: MARKS[','] },
        ]}
        onCommit={format.setDecimal}
      />
      {format.openDays ? (
        <Select
          label="Days are written with the"
          testId="import-days"
          value={format.dayOrder ?? 'ask'}
          options={[
            ...(format.dayOrder === null
              ? [{ value: 'ask' as const, label: 'either: please choose' }]
              : []),
            ...(['day-first', 'month-first'] as const).map((value) => ({
              value,
              label: ORDERS[value],
            })),
          ]}
          onCommit={(order) => order !== 'ask' && format.setDayOrder(order)}
        />
      ) : null}
    </FieldRow>
  );
}

function asFound(name: string | null): string {
  return name === null ? 'as found' : `as found: ${name}`;
}
