import { dateOf } from '../../../engine/calendar';
import type { Plan } from '../../../../shared-types/plan';
import {
  dayIn,
  dayOrder,
  guessDecimal,
  isBlank,
  readDay,
  type DayOrder,
  type DecimalMark,
  type ParsedLine,
  type TableSheet,
  type TextTable,
} from '../../../tables';
import { codeBook } from '../codes/codeBook';
import { isOwnHead, longColumns, plainName, saidUse, type ColumnUse } from '../columns';
import { isUnit, unitInHead } from '../unitFactor';

/** What a person has said of a sheet; what is left out is guessed. */
export interface Said {
  /** The line of the sheet with the names of the columns. */
  headLine?: number | undefined;
  /** What columns are, by their heads: `FW` → `Fresh weight`. */
  heads?: Readonly<Record<string, string>>;
  dayOrder?: DayOrder | undefined;
  decimal?: DecimalMark | undefined;
  /** What columns are, by their number. */
  uses?: Readonly<Record<number, ColumnUse>>;
}

/** A sheet with one header, as a table. */
export interface SheetShape {
  table: TextTable;
  uses: Record<number, ColumnUse>;
  /** Lines above the header, which hold titles. */
  titles: ParsedLine[];
  /** Lines that make the header, and where it is repeated further down. */
  headLines: number[];
  repeated: number[];
  /** Columns whose days can be read in two ways, by number. */
  openDays: number[];
  /** Heads that were assigned to what neither plan nor table knows. */
  unknownHeads: string[];
}

/** How far down a header is looked for. */
const MOST_TITLES = 40;

/** Gives a sheet its header and columns, whatever stands above it. `asked`: heads that have to be in it. */
export function shapeOf(
  plan: Plan,
  sheet: TableSheet,
  said: Said,
  asked: readonly string[],
): SheetShape | null {
  const find = codeBook(plan);
  const candidates = sheet.lines.slice(0, MOST_TITLES).flatMap((line, at): Head[] => {
    if (said.headLine !== undefined && line.line !== said.headLine) return [];
    const below = sheet.lines[at + 1];
    const one = { at, lines: [line.line], names: namesOf(line.cells) };
    if (!below || !isSecondHead(plan, below, (code) => find(code) !== undefined)) return [one];
    const names = joined(line.cells, below.cells);
    return [one, { at, lines: [line.line, below.line], names }];
  });
  const scored = candidates
    // A line of units or times below names is no line of values: two lines go before one.
    .map((head) => ({ head, points: pointsOf(plan, head.names, said) + head.lines.length / 10 }))
    .sort((a, b) => b.points - a.points || a.head.at - b.head.at);
  // Where nothing is known, the first line with several texts is the header.
  const [best] = scored;
  const plain = candidates.find(({ names }) => names.filter((name) => name !== '').length > 1);
  const head = best && best.points >= 1 ? best.head : (plain ?? candidates[0]);
  return head ? tableBelow(plan, sheet, head, said, asked) : null;
}

interface Head {
  /** Place of its first line among the sheet's. */
  at: number;
  lines: number[];
  names: string[];
}

const namesOf = (cells: readonly string[]): string[] => cells.map((cell) => dayName(cell.trim()));

/** A day at the head of a column as measurements write it, where it can be read in one way only. */
const dayName = (text: string): string => {
  const day = readDay(text);
  return day.kind === 'one' ? day.day : text;
};

/** A line of units, times or days beneath names that span several columns. */
function isSecondHead(
  plan: Plan,
  { cells }: ParsedLine,
  isPot: (code: string) => boolean,
): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  const times = (plan.trial?.measurements ?? [])
    .flatMap(({ timepoint, date }) => [timepoint, `at ${timepoint}`, date ?? timepoint])
    .map(plainName);
  return (
    filled.length > 0 &&
    !filled.some(isPot) &&
    filled.some(
      (cell) => isUnit(cell.replace(/[[\]()]/g, '')) || times.includes(plainName(dayName(cell))),
    ) &&
    filled.every((cell) => dayName(cell) !== cell || !/^[+-]?\d/.test(cell.trim()))
  );
}

function joined(above: readonly string[], below: readonly string[]): string[] {
  let spanning = '';
  return Array.from({ length: Math.max(above.length, below.length) }, (_, i) => {
    const top = above[i]?.trim() ?? '';
    const bottom = dayName(below[i]?.trim() ?? '');
    if (top !== '') spanning = top;
    if (bottom === '' || bottom === top) return top;
    const name = top || spanning;
    const unit = bottom.replace(/^[[(]|[\])]$/g, '');
    return isUnit(unit) ? `${name} (${unit})` : `${name} ${bottom}`.trim();
  });
}

/** How much the names of columns tell: a measurement most, and each but once. */
function pointsOf(plan: Plan, names: readonly string[], said: Said): number {
  const seen = new Set<string>();
  return names.reduce(
    (sum, name) => {
      if (name === '') return sum;
      const use = usesOfHead(plan, name, said);
      if (use === null) return sum + (isOwnHead(plan, name) ? 1 : 0);
      switch (use.use) {
        case 'measurement': {
          if (seen.has(use.measurementId)) return sum - 2;
          seen.add(use.measurementId);
          return sum + 3;
        }
        case 'ambiguous':
          return sum + 1;
        case 'nothing':
          return sum;
        case 'pot':
        case 'shelf':
        case 'tray':
        case 'row':
        case 'column':
        case 'plant':
        case 'mark':
        case 'note':
        case 'date':
        case 'run':
          return sum + 2;
        default:
          return use satisfies never;
      }
    },
    longColumns(plan, names) ? 5 : 0,
  );
}

/** What was assigned to a head, else what its own words say; null: nothing known. */
function usesOfHead(plan: Plan, name: string, said: Said): ColumnUse | null {
  return assigned(plan, name, said) ?? saidUse(plan, name);
}

function assigned(plan: Plan, name: string, { heads = {} }: Said): ColumnUse | null {
  const parts = unitInHead(name);
  const words = Object.entries(heads).find(([head]) =>
    [name, parts?.name ?? name].map(plainName).includes(plainName(head)),
  )?.[1];
  return words === undefined ? null : saidUse(plan, words, parts?.unit);
}

function tableBelow(
  plan: Plan,
  sheet: TableSheet,
  head: Head,
  said: Said,
  asked: readonly string[],
): SheetShape {
  const { lines } = sheet;
  const rest = lines.slice(head.at + head.lines.length);
  const width = rest.reduce(
    (most, { cells }) => Math.max(most, widthOf(cells)),
    widthOf(head.names),
  );
  const columns = distinct(
    Array.from({ length: width }, (_, i) => head.names[i] || `column ${i + 1}`),
  );
  const isRepeated = ({ cells }: ParsedLine) =>
    namesOf(cells).every((name, i) => plainName(name) === plainName(head.names[i] ?? '')) &&
    cells.some((cell) => cell.trim() !== '');
  const repeated = rest.filter(isRepeated).map(({ line }) => line);
  const rows = rest
    .filter((line) => !isRepeated(line))
    .map((row) => ({ ...row, cells: columns.map((_name, i) => row.cells[i] ?? '') }));
  const uses = Object.fromEntries(
    columns.flatMap((name, i) => {
      const use = said.uses?.[i] ?? assigned(plan, name, said);
      return use ? [[i, use] as const] : [];
    }),
  );
  const openDays = withDays(plan, columns, rows, uses, said);
  const heads = columns.flatMap((name) => [name, unitInHead(name)?.name ?? name]).map(plainName);
  return {
    table: {
      columns,
      rows,
      separator: sheet.separator ?? '\t',
      decimal: said.decimal ?? guessDecimal(rows.flatMap(({ cells }) => cells)),
      decimalStated: said.decimal !== undefined,
      cutLine: sheet.cutLine,
    },
    uses,
    repeated,
    openDays,
    headLines: head.lines,
    titles: lines.slice(0, head.at),
    unknownHeads: asked.filter(
      (name) => !heads.includes(plainName(name)) || !saidUse(plan, said.heads?.[name] ?? ''),
    ),
  };
}

const widthOf = (cells: readonly string[]): number =>
  cells.findLastIndex((cell) => cell.trim() !== '') + 1;

function distinct(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; taken.has(plainName(free)); n++) free = `${name} ${n}`;
    taken.add(plainName(free));
    return free;
  });
}

/** Writes the days of date columns as ISO 8601; gives the columns in which they have two readings. */
function withDays(
  plan: Plan,
  columns: readonly string[],
  rows: ParsedLine[],
  uses: Readonly<Record<number, ColumnUse>>,
  said: Said,
): number[] {
  const { trial } = plan;
  const expected = new Set(trial?.measurements.flatMap((m) => dateOf(trial, m) ?? []));
  const long = longColumns(plan, columns);
  const dated = columns.flatMap((name, i) => {
    const use = (uses[i] ?? saidUse(plan, name))?.use;
    return use === 'date' || i === long?.date || i === long?.takenOn ? [i] : [];
  });
  return dated.filter((column) => {
    const texts = rows.map(({ cells }) => cells[column] ?? '').filter((text) => !isBlank(text));
    const order = said.dayOrder ?? dayOrder(texts, expected);
    for (const { cells } of order === null ? [] : rows) {
      const day = dayIn(cells[column] ?? '', order === 'month-first' ? order : 'day-first');
      if (day !== null) cells[column] = day;
    }
    return order === null;
  });
}
