import type { LightReading } from '../../shared-types/light';
import type { Plan } from '../../shared-types/plan';
import { codeBook, isBlank, readNumber, readTable, type TextTable } from '../document/records';
import { canopyHeightMm } from '../engine/geometry';
import { readingPpfd, type Calibration, type CheckedReading } from '../engine/light';
import { potLightOf } from './light';

/** What the readings of one table have in common. */
export interface ReadingUnit {
  unit: LightReading['unit'];
  /** Needed for lux. */
  luxPerPpfd: number | null;
  date: string | null;
}

export type ReadingsAnswer =
  { ok: true; readings: Omit<LightReading, 'id'>[] } | { ok: false; problems: string[] };

const COLUMNS = {
  shelf: /^shelf$/i,
  pot: /^pot$/i,
  x: /^x([ _(]*mm\)?)?$/i,
  y: /^y([ _(]*mm\)?)?$/i,
  z: /^z([ _(]*mm\)?)?$/i,
  value: /^(value|reading|ppfd|lux)\b/i,
  note: /^note$/i,
};

/**
 * Readings from a pasted table or CSV with a header: `shelf, x, y, z, value` in mm, or `pot, value`
 * with a pot's code. Without z the canopy's height counts. A column `lux` or `ppfd` states its own
 * unit. Any fault is named with its line, what was found and what is expected, and nothing is read.
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
  const luxPerPpfd = unit === 'lux' ? common.luxPerPpfd : null;
  const findPot = codeBook(plan);
  const problems: string[] = [];
  const readings: Omit<LightReading, 'id'>[] = [];
  for (const row of table.rows) {
    const reader = new RowReader(table, row, problems);
    const value = reader.number(columns.value, 'a reading of 0 or more', 0, 1_000_000);
    const z = columns.z < 0 || isBlank(reader.cell(columns.z)) ? null : reader.height(columns.z);
    const place =
      columns.pot >= 0
        ? placeOfPot(plan, findPot, reader, columns.pot)
        : placeOnShelf(plan, reader, columns);
    if (value === null || place === null || z === undefined) continue;
    readings.push({
      shelfId: place.shelfId,
      xMm: place.xMm,
      yMm: place.yMm,
      zMm: z ?? place.zMm,
      value,
      unit,
      luxPerPpfd,
      date: common.date,
      note: columns.note >= 0 ? reader.cell(columns.note).trim() : '',
    });
  }
  if (problems.length > 0) return { ok: false, problems };
  if (readings.length === 0) {
    return { ok: false, problems: ['The table has no line under its header.'] };
  }
  return { ok: true, readings };
}

class RowReader {
  constructor(
    private readonly table: TextTable,
    private readonly row: TextTable['rows'][number],
    private readonly problems: string[],
  ) {}

  cell(column: number): string {
    return this.row.cells[column] ?? '';
  }

  refuse(column: number, expected: string): null {
    const name = this.table.columns[column] ?? '';
    const found = this.cell(column).trim() || 'nothing';
    this.problems.push(`Line ${this.row.line}, ${name}: found ${found}; ${expected} is expected.`);
    return null;
  }

  number(column: number, expected: string, lowest: number, highest: number): number | null {
    const value = readNumber(this.cell(column), this.table.decimal);
    if (value === null || value < lowest || value > highest) return this.refuse(column, expected);
    return value;
  }

  /** undefined: refused. */
  height(column: number): number | undefined {
    return this.number(column, 'a height from 0 to 5000 mm', 0, 5000) ?? undefined;
  }
}

interface Place {
  shelfId: string;
  xMm: number;
  yMm: number;
  zMm: number;
}

function placeOfPot(
  plan: Plan,
  findPot: ReturnType<typeof codeBook>,
  reader: RowReader,
  column: number,
): Place | null {
  const pot = findPot(reader.cell(column));
  if (!pot || pot === 'several') return reader.refuse(column, 'the code of a pot such as 2B-C7');
  const shelf = plan.rack.shelves.find((s) => s.id === pot.shelfId);
  if (!shelf) return reader.refuse(column, 'the code of a pot such as 2B-C7');
  const zMm = canopyHeightMm(shelf, plan.light.canopyAt);
  return { shelfId: shelf.id, xMm: pot.xMm, yMm: pot.yMm, zMm };
}

function placeOnShelf(
  plan: Plan,
  reader: RowReader,
  columns: { shelf: number; x: number; y: number },
): Place | null {
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
  const within = (span: number) => `a place from 0 to ${span} mm on shelf ${shelf.number}`;
  const xMm = reader.number(columns.x, within(shelf.widthMm), 0, shelf.widthMm);
  const yMm = reader.number(columns.y, within(shelf.depthMm), 0, shelf.depthMm);
  if (xMm === null || yMm === null) return null;
  return { shelfId: shelf.id, xMm, yMm, zMm: canopyHeightMm(shelf, plan.light.canopyAt) };
}

/** A reading with what the calibration makes of it; null where its shelf has none. */
export interface ReadingRow {
  reading: LightReading;
  shelfNumber: number;
  /** µmol m⁻² s⁻¹; null where it cannot be told. */
  measuredUmol: number | null;
  checked: CheckedReading | null;
}

/** All readings in the order they were entered. */
export function readingRowsOf(plan: Plan): ReadingRow[] {
  const { calibrations } = potLightOf(plan);
  const numbers = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf.number]));
  const checked = new Map(
    [...calibrations.values()].flatMap((c) => c.readings.map((r) => [r.readingId, r] as const)),
  );
  return plan.light.readings.map((reading) => {
    const ppfd = readingPpfd(reading);
    return {
      reading,
      shelfNumber: numbers.get(reading.shelfId) ?? 0,
      measuredUmol: typeof ppfd === 'number' ? ppfd : null,
      checked: checked.get(reading.id) ?? null,
    };
  });
}

/** The calibrations by shelf, in the rack's order. */
export function calibrationsOf(plan: Plan): { shelfNumber: number; calibration: Calibration }[] {
  const { calibrations } = potLightOf(plan);
  return plan.rack.shelves.flatMap((shelf) => {
    const calibration = calibrations.get(shelf.id);
    return calibration ? [{ shelfNumber: shelf.number, calibration }] : [];
  });
}

/** A pot's place by its code, for a reading taken at it; null where no pot has that code. */
export function placeOfCode(plan: Plan, code: string): Place | null {
  const pot = codeBook(plan)(code);
  if (!pot || pot === 'several') return null;
  const shelf = plan.rack.shelves.find((s) => s.id === pot.shelfId);
  if (!shelf) return null;
  const zMm = canopyHeightMm(shelf, plan.light.canopyAt);
  return { shelfId: shelf.id, xMm: pot.xMm, yMm: pot.yMm, zMm };
}
