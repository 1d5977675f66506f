import { potsOfRack, type Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import { potsToMeasure } from '../../queries/records';
import { isBlank, numberStyle, type ParsedLine, type TableSheet } from '../../../tables';
import { saidUse, type ColumnUse } from '../columns';
import { markIn } from '../marks';
import { trayBlocks, type TrayBlock } from './matrixBlocks';
import {
  valueOutcome,
  type CellReport,
  type RowReport,
  type TablePreview,
  type TableQuestion,
} from './outcome';
import { refuseTwice } from './refuseTwice';
import type { Said } from './shape';
import { numberAndUnit, unitInHead } from '../unitFactor';

/**
 * A sheet that holds a block for each tray: its name, the numbers of the columns above, the letter of
 * each row beside, as a planting chart shows it. null: it is no such sheet. Which measurement it holds
 * is told by what is said, the sheet's name or the texts above a block.
 */
export function matchMatrix(
  plan: Plan,
  sheet: TableSheet,
  said: Said = {},
): { preview: TablePreview; questions: TableQuestion[] } | null {
  const { blocks, misfits } = trayBlocks(plan, sheet);
  const questions = misfits.map(({ tray, line, found }): TableQuestion => ({
    about: `tray ${tray}, line ${line}`,
    found,
    expected: 'row letters and column numbers, or all pots of the tray, are expected',
  }));
  if (blocks.length === 0 && questions.length === 0) return null;
  const pots = new Map(potsOfRack(plan.rack).map((pot) => [pot.code, pot]));
  const cells: CellReport[] = [];
  const named = new Set<string>();
  const [first] = misfits;
  let problem = blocks.length === 0 && first ? `Tray ${first.tray} ${first.found}.` : null;
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
  const preview: TablePreview = {
    form: 'matrix',
    decimal: style.decimal,
    columns,
    problem,
    cells,
    rows: besideTrays(sheet.lines, blocks),
    missingPots,
    otherRuns: [],
  };
  return { preview, questions };
}

/** Lines with numbers that stand in no tray, such as sums: they are told, and stay out. */
function besideTrays(lines: readonly ParsedLine[], blocks: readonly TrayBlock[]): RowReport[] {
  const known = lines.map(() => new Set<number>());
  for (const { at, nameColumn, numbersAt, columnOf, rows } of blocks) {
    const columns = [...columnOf.keys()];
    known[at]?.add(nameColumn);
    if (numbersAt !== null) for (const column of columns) known[numbersAt]?.add(column);
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

/** The measurement that a block holds, and by which text it is told. */
function measurementOf(
  plan: Plan,
  sheet: TableSheet,
  block: TrayBlock,
  { heads = {} }: Said,
): { use: ColumnUse; name: string } {
  const above = sheet.lines
    .slice(Math.max(0, block.at - 3), endOfHead(block))
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

const endOfHead = ({ at, numbersAt, rows }: TrayBlock): number =>
  numbersAt === null ? (rows[0]?.at ?? at + 1) : numbersAt + 1;

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();
