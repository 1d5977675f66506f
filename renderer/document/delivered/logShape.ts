import type { DeliveredMeasure } from '../../../shared-types/delivered';
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
} from '../../tables';
import { headWords, partOfHead, plainHead, type LogUse } from './logHeads';
import { plainSigns, signIn } from './measureSigns';

/** What a person has said of a logger's table; what is left out is guessed. */
export interface LogSaid {
  /** The line of the sheet with the names of the columns. */
  headLine?: number | undefined;
  /** What columns are, in words, by their heads: `Cond` → `EC, µS/cm, Tank 1`. */
  heads?: Readonly<Record<string, string>>;
  dayOrder?: DayOrder | undefined;
  decimal?: DecimalMark | undefined;
  /** What columns are, by their number. */
  uses?: Readonly<Record<number, LogUse>>;
  /** Ids of units by what the table calls them; '' is the unit of lines that name none, null: not used. */
  units?: Readonly<Record<string, string | null>>;
}

export interface LogColumn {
  name: string;
  use: LogUse;
  /** The person has said what it is. */
  said: boolean;
  /** Of a unit that the measure is not written in, such as lux. */
  foreign: string | null;
}

/** A logger's sheet with one header. */
export interface LogShape {
  titles: ParsedLine[];
  headLines: number[];
  columns: LogColumn[];
  rows: ParsedLine[];
  decimal: DecimalMark;
  decimalStated: boolean;
  /** The day of each row, ISO 8601; null: none can be read. */
  days: (string | null)[];
  /** Its days can be read in two ways, and nothing tells which. */
  openDays: boolean;
}

/** How far down a header is looked for: loggers write many lines about themselves first. */
const MOST_TITLES = 60;
const LOOKED_AT = 50;

/** What a table may speak of. */
export interface LogSubject {
  /** Whether a day is one of the trial. */
  isExpected: (day: string) => boolean;
  isUnit: (name: string) => boolean;
}

/** Gives a logger's sheet its header and columns; null: it holds no line. */
export function logShape(
  sheet: TableSheet,
  said: LogSaid,
  { isExpected, isUnit }: LogSubject,
): LogShape | null {
  const { lines } = sheet;
  const heads = lines.slice(0, MOST_TITLES).flatMap((line, at) => {
    if (said.headLine !== undefined && line.line !== said.headLine) return [];
    const names = line.cells.map((cell) => cell.trim());
    const below = lines[at + 1];
    const one = { at, count: 1, names, points: pointsOf(names, said) };
    if (!below || !isLineOfSigns(below.cells)) return [one];
    const both = names.map((name, i) => `${name} ${below.cells[i]?.trim() ?? ''}`.trim());
    return [one, { at, count: 2, names: both, points: pointsOf(both, said) + 0.1 }];
  });
  const [best] = heads.sort((a, b) => b.points - a.points || a.at - b.at);
  if (!best) return null;
  const rest = lines.slice(best.at + best.count);
  const width = Math.max(best.names.length, ...rest.slice(0, LOOKED_AT).map((r) => r.cells.length));
  const names = Array.from({ length: width }, (_, i) => best.names[i] || `column ${i + 1}`);
  const titles = lines.slice(0, best.at);
  const topic = topicOf([sheet.name, ...titles.flatMap(({ cells }) => cells)]);
  const columns = columnsOf(names, rest, said, { topic, isUnit });
  const dayAt = columns.findIndex(({ use }) => use.use === 'day');
  const texts = dayAt < 0 ? [] : rest.map(({ cells }) => cells[dayAt] ?? '');
  const order =
    said.dayOrder ??
    orderOf(
      texts.filter((text) => !isBlank(text)),
      isExpected,
    );
  const known = new Map<string, string | null>();
  const dayOf = (text: string) => {
    const found = known.get(text) ?? dayIn(text, order === 'month-first' ? order : 'day-first');
    known.set(text, found);
    return found;
  };
  return {
    titles,
    headLines: lines.slice(best.at, best.at + best.count).map(({ line }) => line),
    columns,
    rows: rest,
    decimal: said.decimal ?? decimalOf(rest, columns),
    decimalStated: said.decimal !== undefined,
    days: rest.map(({ cells }) => (dayAt < 0 ? null : dayOf(cells[dayAt] ?? ''))),
    openDays: order === null,
  };
}

const NO_DAYS: ReadonlySet<string> = new Set();

/** As a day proves it, else the only order in which all days are of the trial; null: nothing tells. */
function orderOf(texts: readonly string[], isExpected: LogSubject['isExpected']) {
  const proven = dayOrder(texts, NO_DAYS);
  if (proven !== null) return proven;
  const days = [...new Set(texts)].map(readDay).flatMap((day) => (day.kind === 'two' ? [day] : []));
  const orders = (['day-first', 'month-first'] as const).filter((order) =>
    days.every(({ byOrder }) => isExpected(byOrder[order])),
  );
  return orders.length === 1 ? (orders[0] ?? null) : null;
}

/** By the cells of figures alone: a comma in `Tank 1, left` says nothing. */
function decimalOf(rows: readonly ParsedLine[], columns: readonly LogColumn[]): DecimalMark {
  const at = columns.flatMap(({ use }, i) =>
    use.use === 'figure' || use.use === 'value' ? [i] : [],
  );
  return guessDecimal(rows.flatMap(({ cells }) => at.map((i) => cells[i] ?? '')));
}

const isLineOfSigns = (cells: readonly string[]): boolean => {
  const filled = cells.filter((cell) => !isBlank(cell));
  // Beside them stand units of what is not logged, such as V; a line of values has digits.
  return filled.some(isSign) && !filled.some((cell) => /^[+-]?\d/.test(cell.trim()));
};

const isSign = (text: string): boolean => {
  const plain = plainSigns(text).replace(/^[[(]|[\])]$/g, '');
  if (plain === 'ph' || plain === 'h') return true;
  const found = signIn(plain, null) ?? signIn(plain, 'hours') ?? signIn(plain, 'temperature');
  return found?.found === plain;
};

function pointsOf(names: readonly string[], { heads = {} }: LogSaid): number {
  const own = new Set(Object.keys(heads).map(plainHead));
  return names.reduce((sum, name) => {
    if (name === '' || /^[+-]?\d/.test(name)) return sum;
    if (own.has(plainHead(name)) || headWords(name).measure !== null) return sum + 3;
    return sum + (partOfHead(name) === null ? 0 : 2);
  }, 0);
}

/** The one measure that a sheet's name or titles speak of; null: none, or several. */
function topicOf(texts: readonly string[]): DeliveredMeasure | null {
  const named = new Set(texts.flatMap((text) => headWords(text).measure ?? []));
  return named.size === 1 ? ([...named][0] ?? null) : null;
}

interface Around {
  topic: DeliveredMeasure | null;
  isUnit: (name: string) => boolean;
}

/** What the columns are: as said, else by their heads, and where these leave it open, by their cells. */
function columnsOf(
  names: readonly string[],
  rows: readonly ParsedLine[],
  { uses = {}, heads = {} }: LogSaid,
  around: Around,
): LogColumn[] {
  const words = new Map(Object.entries(heads).map(([head, text]) => [plainHead(head), text]));
  const held = names.map((_name, at) =>
    rows.slice(0, LOOKED_AT).flatMap(({ cells }) => {
      const text = cells[at]?.trim() ?? '';
      return isBlank(text) ? [] : [text];
    }),
  );
  const columns = names.map((name, at): LogColumn => {
    const told = words.get(plainHead(name));
    const given = uses[at] ?? (told === undefined ? null : spokenUse(told, name));
    if (given) return { name, use: withName(given, name), said: true, foreign: null };
    return byHead(name, held[at] ?? [], around);
  });
  const dayAt = dayColumn(columns, held);
  const long = columns.some(({ use }) => use.use === 'value');
  const settled = columns.map((column, at): LogColumn => {
    if (at === dayAt) return { ...column, use: { use: 'day' } };
    if (column.said) return column;
    if (column.use.use === 'day') return { ...column, use: { use: 'time' } };
    const part = column.use.use === 'unit' || column.use.use === 'measure';
    return part ? { ...column, use: { use: partHeld(held[at] ?? [], long) } } : column;
  });
  const { topic } = around;
  if (topic === null || settled.some(({ use }) => use.use === 'measure')) return settled;
  return settled.map((column) =>
    column.use.use === 'value' ? { ...column, use: figureOf(topic, column.name) } : column,
  );
}

function byHead(name: string, texts: readonly string[], { topic, isUnit }: Around): LogColumn {
  const { measure, sign, foreign, name: rest, extreme } = headWords(name);
  const part = partOfHead(name);
  const as = (use: LogUse): LogColumn => ({ name, use, said: false, foreign });
  const numbers = mostlyNumbers(texts) && !holdsDays(texts);
  if (measure !== null && (numbers || part === null)) {
    return as(extreme ? NOTHING : { use: 'figure', measure, sign, name: rest });
  }
  // `Tank 1` over numbers: what of it is said elsewhere, or by the person.
  if (numbers && isUnit(name)) return as(topic === null ? NOTHING : figureOf(topic, name));
  return as(part ? { use: part } : NOTHING);
}

const figureOf = (measure: DeliveredMeasure, head: string): LogUse => {
  const { sign, name } = headWords(head);
  return { use: 'figure', measure, sign: sign ?? (measure === 'ph' ? '' : null), name };
};

/** The column of days: as said, else the first of its name that holds some, else one of times that does. */
function dayColumn(columns: readonly LogColumn[], held: readonly (readonly string[])[]): number {
  const isDay = ({ use }: LogColumn) => use.use === 'day';
  const said = columns.findIndex((column) => isDay(column) && column.said);
  if (said >= 0) return said;
  const dated = (is: (column: LogColumn) => boolean) =>
    columns.findIndex((column, at) => !column.said && is(column) && holdsDays(held[at] ?? []));
  const named = dated(isDay);
  const found = named >= 0 ? named : dated(({ use }) => use.use === 'time');
  return found >= 0 ? found : columns.findIndex(isDay);
}

/** What a column beside the figures tells, by what it holds. */
function partHeld(texts: readonly string[], long: boolean): 'unit' | 'sign' | 'measure' {
  const of = (is: (text: string) => boolean) => long && 2 * texts.filter(is).length > texts.length;
  if (of(isSign)) return 'sign';
  return of((text) => headWords(text).measure !== null) ? 'measure' : 'unit';
}

const holdsDays = (texts: readonly string[]): boolean =>
  texts.some((text) => readDay(text).kind !== 'none');

const NOTHING: LogUse = { use: 'nothing' };

const mostlyNumbers = (texts: readonly string[]): boolean =>
  2 * texts.filter((text) => /^[+\-−]?\s*[\d.,]+(?:\s*[^\d\s]{1,12})?$/.test(text)).length >
  texts.length;

/** What the head says besides stays the name of a unit. */
const withName = (use: LogUse, head: string): LogUse =>
  use.use === 'figure' && use.name === '' ? { ...use, name: headWords(head).name } : use;

/** A use in words, as the shell and earlier tables give it; null: they name nothing. */
export function spokenUse(text: string, head: string): LogUse | null {
  const plain = plainHead(text);
  if (plain === 'nothing' || plain === 'not used') return NOTHING;
  const { measure, sign, name } = headWords(text);
  if (measure === null) {
    const part = partOfHead(text);
    return part ? { use: part } : null;
  }
  return withName({ use: 'figure', measure, sign, name }, head);
}
