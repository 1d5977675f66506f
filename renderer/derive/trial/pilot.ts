import { meanUnitSize, unitVarianceUpper } from '../../engine/trial/power';
import { isBlank, textLinesOf, readNumber, readTable } from '../../tables';
import { readTypedFigure, twoReadings } from '../../words';

export interface PilotSpread {
  plantSd: number;
  /** 0 where the lines differ by no more than their plants make them differ. */
  unitSd: number;
  /** Upper 95 % limit of that; null with a single line. */
  unitSdUpper: number | null;
  plants: number;
  lines: number;
  /** Of a table with a header: the columns that were read. */
  columns: { value: string; unit: string | null } | null;
}

type Lines = { lines: number[][]; columns: PilotSpread['columns'] } | { missing: string };

/** Three decimals after a point are nothing unusual in what is pasted here. */
const FINEST = 0.001;

/** One line of values for each tray or shelf. */
function typedLines(text: string): Lines {
  const lines: number[][] = [];
  for (const [i, line] of textLinesOf(text).entries()) {
    // Values are parted by spaces, tabs or semicolons; a comma is a decimal mark.
    const cells = line.split(/[\s;]+/).filter((cell) => !isBlank(cell));
    if (cells.length === 0) continue;
    const values: number[] = [];
    for (const cell of cells) {
      const read = readTypedFigure(cell, FINEST);
      if (!read.ok) {
        const why = read.asked ? twoReadings(cell, read.asked) : `“${cell}” is no number.`;
        return { missing: `Line ${i + 1}: ${why}` };
      }
      values.push(read.value);
    }
    lines.push(values);
  }
  return { lines, columns: null };
}

/** A row for each plant: its tray or shelf in the first column, its value in the last with numbers. */
function tableLines(text: string): Lines {
  const read = readTable(text);
  if (!read.ok) return { missing: read.problem };
  const { columns, rows, decimal } = read.table;
  const isNumber = (cell: string): boolean => isBlank(cell) || readNumber(cell, decimal) !== null;
  const value = columns.findLastIndex(
    (_, c) =>
      rows.some((row) => !isBlank(row.cells[c] ?? '')) &&
      rows.every((row) => isNumber(row.cells[c] ?? '')),
  );
  if (value < 0) {
    return { missing: 'No column holds numbers only; a column of values is expected.' };
  }
  const byUnit = new Map<string, number[]>();
  for (const { cells } of rows) {
    const number = readNumber(cells[value] ?? '', decimal);
    if (number === null) continue;
    const unit = value === 0 ? '' : (cells[0] ?? '').trim();
    const own = byUnit.get(unit);
    if (own) own.push(number);
    else byUnit.set(unit, [number]);
  }
  const unit = value === 0 ? null : (columns[0] ?? null);
  return { lines: [...byUnit.values()], columns: { value: columns[value] ?? '', unit } };
}

/**
 * Spread from a pilot, typed as one line of values for each tray or shelf treated alike, or read
 * from a table with a header: within lines by the pooled mean square, between lines by
 * (MSB − MSW)/n₀ with n₀ = (N − Σn²/N)/(k − 1) (Snedecor & Cochran 1989, Statistical Methods,
 * 13.5: one-way classification, unequal numbers).
 */
export function pilotSpread(text: string): PilotSpread | { missing: string } {
  const [first = ''] = textLinesOf(text).filter((line) => line.trim() !== '');
  // A header names something; a line of values holds no word of two letters and more.
  const read = /\p{L}{2}/u.test(first) ? tableLines(text) : typedLines(text);
  if ('missing' in read) return read;
  const { lines, columns } = read;
  const n = lines.reduce((sum, line) => sum + line.length, 0);
  const k = lines.length;
  if (n - k < 1) return { missing: 'At least two plants treated alike in one line are expected.' };
  const grand = lines.flat().reduce((sum, value) => sum + value, 0) / n;
  let within = 0;
  let between = 0;
  for (const line of lines) {
    const mean = line.reduce((sum, value) => sum + value, 0) / line.length;
    between += line.length * (mean - grand) ** 2;
    for (const value of line) within += (value - mean) ** 2;
  }
  const ms = within / (n - k);
  if (!(ms > 0))
    return {
      missing:
        'The plants of a line are all the same; they show no difference between equal plants.',
    };
  const perUnit = meanUnitSize(lines.map((line) => line.length));
  const dfUnits = k - 1;
  const msUnits = between / dfUnits;
  const above = k > 1 ? (msUnits - ms) / perUnit : 0;
  const upper =
    k > 1 ? unitVarianceUpper({ msUnits, dfUnits, msWithin: ms, dfWithin: n - k, perUnit }) : null;
  return {
    plantSd: Math.sqrt(ms),
    unitSd: Math.sqrt(Math.max(0, above)),
    unitSdUpper: upper === null ? null : Math.sqrt(upper),
    plants: n,
    lines: k,
    columns,
  };
}
