import { letterOf, potsOfRack, trayCode, type Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { potsToMeasure } from '../queries/records';
import { isBlank, numberStyle, type ParsedLine, type TableSheet } from '../../tables';
import { saidUse, type ColumnUse } from './columns';
import { markIn } from './marks';
import { valueOutcome, type CellReport, type RowReport, type TablePreview } from './outcome';
import { refuseTwice } from './refuseTwice';
import type { Said } from './shape';
import { numberAndUnit, unitInHead } from './unitFactor';

/** One tray of a sheet that shows each tray as it stands on the rack. */
interface TrayBlock {
  tray: string;
  /** Line and column, counted from 0 among the sheet's, of the cell that names it. */
  at: number;
  nameColumn: number;
  /** The place among the sheet's lines of the numbers of the columns, and where each stands. */
  numbersAt: number;
  columnOf: Map<number, number>;
  /** The rows of pots, from the top of the sheet: letter and place among the lines. */
  rows: { letter: string; at: number }[];
}

const ROW = /^(?:row|reihe)?\s*([A-Z]{1,2}|\d{1,2})$/i;

/**
 * A sheet that holds a block for each tray: its name, the numbers of the columns above, the letter of
 * each row beside, as a planting chart shows it. null: it is no such sheet. Which measurement it holds
 * is told by what is said, the sheet's name or the texts above a block.
 */
export function matchMatrix(plan: Plan, sheet: TableSheet, said: Said = {}): TablePreview | null {
  const blocks = blocksOf(plan, sheet.lines);
  if (blocks.length === 0) return null;
  const pots = new Map(potsOfRack(plan.rack).map((pot) => [pot.code, pot]));
  const cells: CellReport[] = [];
  const named = new Set<string>();
  let problem: string | null = null;
  const columns: TablePreview['columns'] = [];
  const texts = blocks.flatMap(({ rows, columnOf }) =>
    rows.flatMap(({ at }) => [...columnOf.keys()].map((c) => sheet.lines[at]?.cells[c] ?? '')),
  );
  const style = numberStyle(
    said.decimal ?? null,
    texts.map((text) => numberAndUnit(text.trim()).digits || text),
  );
  for (const block of blocks) {
    const { use, name } = measurementOf(plan, sheet, block, said);
    columns.push({ name: `${block.tray}: ${name}`, use });
    if (use.use !== 'measurement') {
      problem ??= `Say which measurement ${name === '' ? `tray ${block.tray}` : name} holds.`;
    }
    for (const { letter, at } of block.rows) {
      const row = sheet.lines[at];
      if (!row) continue;
      for (const [column, number] of block.columnOf) {
        const text = row.cells[column] ?? '';
        const code = `${block.tray}-${letter}${number}`;
        const pot = pots.get(code);
        if (pot) named.add(pot.id);
        const outcome = row.merged?.includes(column)
          ? ({ kind: 'merged' } as const)
          : outcomeOf(plan, use, text, pot, style);
        cells.push({ line: row.line, column, text, potId: pot?.id ?? null, code, outcome });
      }
    }
  }
  refuseTwice(cells);
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  return {
    ...{ form: 'matrix', decimal: style.decimal, columns, problem, cells },
    rows: besideTrays(sheet.lines, blocks),
    ...{ missingPots, otherRuns: [] },
  };
}

/** Lines with numbers that stand in no tray, such as sums: they are told, and stay out. */
function besideTrays(lines: readonly ParsedLine[], blocks: readonly TrayBlock[]): RowReport[] {
  const known = lines.map(() => new Set<number>());
  for (const { at, nameColumn, numbersAt, columnOf, rows } of blocks) {
    const columns = [...columnOf.keys()];
    known[at]?.add(nameColumn);
    for (const column of columns) known[numbersAt]?.add(column);
    for (const { at: row } of rows) {
      for (const column of [Math.min(...columns) - 1, ...columns]) known[row]?.add(column);
    }
  }
  return lines.flatMap(({ line, cells }, at) => {
    const stray = cells.find(
      (text, column) => !known[at]?.has(column) && numberAndUnit(text.trim()).digits !== '',
    );
    return stray === undefined ? [] : [{ line, code: stray.trim(), problem: 'no-code' as const }];
  });
}

function outcomeOf(
  plan: Plan,
  use: ColumnUse,
  text: string,
  pot: Pot | undefined,
  style: Parameters<typeof valueOutcome>[4],
): CellReport['outcome'] {
  if (isBlank(text)) return { kind: 'blank' };
  if (!pot) return { kind: 'no-pot' };
  const mark = markIn(text);
  if (mark) return { kind: 'mark', mark };
  if (use.use !== 'measurement') return { kind: 'several-measurements' };
  return valueOutcome(plan, use.measurementId, text, pot.id, style, false, use.unit);
}

function blocksOf(plan: Plan, lines: readonly ParsedLine[]): TrayBlock[] {
  const trays = new Map(
    plan.rack.shelves.flatMap((shelf) =>
      shelf.trays.map((tray) => [trayCode(shelf.number, tray.letter), tray] as const),
    ),
  );
  const trayIn = (text: string): string | null => {
    const [, code = ''] = /(?:^|\s)0*(\d+\s*-?[A-Z]{1,2})(?=$|[\s,;:(–-])/i.exec(text.trim()) ?? [];
    const plain = code.toUpperCase().replace(/[\s-]/g, '');
    return trays.has(plain) ? plain : null;
  };
  return lines.flatMap(({ cells }, at) =>
    cells.flatMap((cell, nameColumn): TrayBlock[] => {
      const tray = trayIn(cell);
      const block = tray === null ? null : blockBelow(lines, at, nameColumn);
      return tray === null || !block ? [] : [{ tray, at, nameColumn, ...block }];
    }),
  );
}

/** The numbers of columns stand in the line of the tray's name or within three below it. */
function blockBelow(
  lines: readonly ParsedLine[],
  at: number,
  nameColumn: number,
): Pick<TrayBlock, 'numbersAt' | 'columnOf' | 'rows'> | null {
  for (let numbersAt = at; numbersAt <= at + 3; numbersAt++) {
    const columnOf = columnNumbers(lines[numbersAt]?.cells ?? [], nameColumn);
    const [first] = columnOf.keys();
    if (first === undefined || first === 0 || columnOf.size < 2) continue;
    const rows: TrayBlock['rows'] = [];
    for (let next = numbersAt + 1; next < lines.length; next++) {
      const letter = rowLetter(lines[next]?.cells[first - 1] ?? '');
      if (letter === null || rows.some((row) => row.letter === letter)) break;
      rows.push({ letter, at: next });
    }
    if (rows.length > 0) return { numbersAt, columnOf, rows };
  }
  return null;
}

/** Whole numbers side by side that go up or down by one, from the name's column on. */
function columnNumbers(cells: readonly string[], from: number): Map<number, number> {
  const found = new Map<number, number>();
  let before: number | null = null;
  for (let c = from; c < cells.length; c++) {
    const text = cells[c]?.trim() ?? '';
    const number = /^\d{1,3}$/.test(text) ? Number(text) : null;
    if (number === null || (before !== null && Math.abs(number - before) !== 1)) {
      if (found.size > 0) break;
      continue;
    }
    found.set(c, number);
    before = number;
  }
  return found;
}

function rowLetter(text: string): string | null {
  const [, found] = ROW.exec(text.trim()) ?? [];
  if (found === undefined) return null;
  return /^\d+$/.test(found) ? letterOf(Number(found)) : found.toUpperCase();
}

/** The measurement that a block holds, and by which text it is told. */
function measurementOf(
  plan: Plan,
  sheet: TableSheet,
  block: TrayBlock,
  { heads = {} }: Said,
): { use: ColumnUse; name: string } {
  const above = sheet.lines
    .slice(Math.max(0, block.at - 3), block.numbersAt + 1)
    .reverse()
    .flatMap(({ cells }) => cells);
  const titles = sheet.lines.slice(0, 3).flatMap(({ cells }) => cells);
  const texts = [...above, sheet.name, ...titles].filter((text) => /\p{L}/u.test(text));
  for (const text of texts) {
    const parts = unitInHead(text.trim());
    const name = parts?.name ?? text.trim();
    const assigned = Object.entries(heads).find(([head]) => same(head, name) || same(head, text));
    const use = saidUse(plan, assigned?.[1] ?? name, parts?.unit) ?? saidUse(plan, text.trim());
    if (use && (use.use === 'measurement' || use.use === 'ambiguous')) return { use, name };
  }
  const all = plan.trial?.measurements ?? [];
  const [only, ...others] = all;
  const use: ColumnUse =
    only && others.length === 0
      ? { use: 'measurement', measurementId: only.id }
      : { use: 'ambiguous', measurementIds: all.map(({ id }) => id) };
  return { use, name: sheet.name };
}

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();
