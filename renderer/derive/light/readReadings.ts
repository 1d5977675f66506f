import type { LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import { codeBook } from '../../document/records';
import { canopyOver } from '../../engine/geometry';
import { isBlank, readTable } from '../../tables';
import { RowReader, type SensorPlace } from './readings';

/** What the readings of one table have in common; the factor is needed for lux. */
export interface ReadingUnit extends Pick<
  LightReading,
  'unit' | 'luxPerPpfd' | 'spectrum' | 'luxRange'
> {
  date: string | null;
}

export type ReadingsAnswer =
  | { ok: true; readings: Omit<LightReading, 'id'>[] }
  | { ok: false; problems: string[] };

const COLUMNS = {
  shelf: /^shelf$/i,
  pot: /^pot$/i,
  x: /^x([ _(]*(mm|in)\)?)?$/i,
  y: /^y([ _(]*(mm|in)\)?)?$/i,
  z: /^z([ _(]*(mm|in)\)?)?$/i,
  value: /^(value|reading|ppfd|lux)\b/i,
  date: /^(date|day)$/i,
  note: /^note$/i,
};

const HIGHEST_MM = 5000;

/**
 * Readings from a pasted table or CSV with a header: `shelf, x, y, z, value`, or `pot, value` with
 * a pot's code, and perhaps `date` and `note`. Places are in the plan's unit of length, unless a
 * column says mm or in. Without z the canopy's height counts, without a date the common one. A
 * column `lux` or `ppfd` states its own unit. Any fault is named with its line, what was found and what is expected, and nothing is read.
 */
export function readReadings(plan: Plan, text: string, common: ReadingUnit): ReadingsAnswer {
  const read = readTable(text);
  if (!read.ok) return { ok: false, problems: [read.problem] };
  const { table } = read;
  const at = (pattern: RegExp) => table.columns.findIndex((name) => pattern.test(name));
  const columns = {
    shelf: at(COLUMNS.shelf),
    pot: at(COLUMNS.pot),
    x: at(COLUMNS.x),
    y: at(COLUMNS.y),
    z: at(COLUMNS.z),
    value: at(COLUMNS.value),
    date: at(COLUMNS.date),
    note: at(COLUMNS.note),
  };
  const placed = columns.pot >= 0 || (columns.shelf >= 0 && columns.x >= 0 && columns.y >= 0);
  if (!placed || columns.value < 0) {
    const found = table.columns.join(', ');
    const problem = `Line 1: found the columns ${found}; shelf, x, y, z, value or pot, value are expected.`;
    return { ok: false, problems: [problem] };
  }
  const head = table.columns[columns.value]?.toLowerCase() ?? '';
  const unit = head.startsWith('lux') ? 'lux' : head.startsWith('ppfd') ? 'ppfd' : common.unit;
  if (unit === 'lux' && common.luxPerPpfd === null) {
    return { ok: false, problems: ['The values are in lux: a factor, lux per PPFD, is expected.'] };
  }
  const conversion = conversionOf({ ...common, unit });
  const findPot = codeBook(plan);
  const problems: string[] = [];
  const readings: Omit<LightReading, 'id'>[] = [];
  for (const row of table.rows) {
    const reader = new RowReader(table, row, problems, plan.display.lengths);
    const value = reader.number(columns.value, 'a reading of 0 or more', 0, 1_000_000);
    const z =
      columns.z < 0 || isBlank(reader.cell(columns.z))
        ? null
        : reader.length(columns.z, 'a height', HIGHEST_MM);
    const place =
      columns.pot >= 0
        ? placeOfPot(plan, findPot, reader, columns.pot)
        : placeOnShelf(plan, reader, columns);
    const date =
      columns.date < 0 || isBlank(reader.cell(columns.date))
        ? common.date
        : reader.date(columns.date);
    if (value === null || place === null || z === undefined || date === undefined) continue;
    readings.push({
      shelfId: place.shelfId,
      xMm: place.xMm,
      yMm: place.yMm,
      zMm: z ?? place.zMm,
      value,
      ...conversion,
      date,
      note: columns.note >= 0 ? reader.cell(columns.note).trim() : '',
    });
  }
  if (problems.length > 0) return { ok: false, problems };
  if (readings.length === 0) {
    return { ok: false, problems: ['The table has no line under its header.'] };
  }
  return { ok: true, readings };
}

/** The part of a reading that says what its value means. */
export function conversionOf({
  unit,
  luxPerPpfd,
  spectrum,
  luxRange,
}: ReadingUnit): Pick<LightReading, 'unit' | 'luxPerPpfd' | 'spectrum' | 'luxRange'> {
  if (unit === 'ppfd') return { unit, luxPerPpfd: null };
  return { unit, luxPerPpfd, ...(spectrum && { spectrum }), ...(luxRange && { luxRange }) };
}

function placeOfPot(
  plan: Plan,
  findPot: ReturnType<typeof codeBook>,
  reader: RowReader,
  column: number,
): SensorPlace | null {
  const pot = findPot(reader.cell(column));
  if (!pot || pot === 'several') return reader.refuse(column, 'the code of a pot such as 2B-C7');
  const shelf = plan.rack.shelves.find((s) => s.id === pot.shelfId);
  if (!shelf) return reader.refuse(column, 'the code of a pot such as 2B-C7');
  const zMm = canopyOver(shelf, plan.light.canopyAt)(pot.xMm, pot.yMm);
  return { shelfId: shelf.id, xMm: pot.xMm, yMm: pot.yMm, zMm };
}

function placeOnShelf(
  plan: Plan,
  reader: RowReader,
  columns: { shelf: number; x: number; y: number },
): SensorPlace | null {
  const number = Number(
    reader
      .cell(columns.shelf)
      .trim()
      .replace(/^shelf\s*/i, ''),
  );
  const shelf = plan.rack.shelves.find((s) => s.number === number);
  if (!shelf) {
    const there = plan.rack.shelves.map((s) => s.number).join(', ');
    return reader.refuse(columns.shelf, `the number of a shelf (${there || 'there is none yet'})`);
  }
  const what = `a place on shelf ${shelf.number}`;
  const xMm = reader.length(columns.x, what, shelf.widthMm);
  const yMm = reader.length(columns.y, what, shelf.depthMm);
  if (xMm === undefined || yMm === undefined) return null;
  return { shelfId: shelf.id, xMm, yMm, zMm: canopyOver(shelf, plan.light.canopyAt)(xMm, yMm) };
}
