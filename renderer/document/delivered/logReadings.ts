import { deliveredTraits, type DeliveredMeasure } from '../../../shared-types/delivered';
import { isBlank, numberStyle, readCell, type NumberStyle, type ParsedLine } from '../../tables';
import { figure, fieldNumber } from '../../words';
import { headWords, type LogUse } from './logHeads';
import type { LogShape } from './logShape';
import { inOwnUnit, measureSigns, plainSigns, signIn } from './measureSigns';

/** One number of a unit on a day, in the measure's own unit. */
export interface Reading {
  unitId: string;
  day: string;
  measure: DeliveredMeasure;
  value: number;
  line: number;
}

/** A line, or one cell of it, that stays out. */
export interface LogLeftOut {
  line: number;
  /** Counted from 0; null: the whole line. */
  column: number | null;
  text: string;
  why: string;
}

export interface LogCells {
  readings: Reading[];
  leftOut: LogLeftOut[];
  /** Cells of figures that hold none. */
  blank: number;
  /** Numbers that can be read in two ways, by cell. */
  twoReadings: {
    line: number;
    column: number;
    text: string;
    asDecimal: number;
    asGrouped: number;
  }[];
  /** What the table calls units, each with the lines or columns that say it; '' where none is said. */
  named: Map<string, number>;
}

/** Gives the unit of a name; null: the name is not used; undefined: nobody knows it. */
export type FindUnit = (name: string, head?: string) => string | null | undefined;

/** Reads every cell of a logger's table that holds a figure. */
export function logReadings(shape: LogShape, find: FindUnit): LogCells {
  const { columns, rows, days } = shape;
  const cells: LogCells = {
    readings: [],
    leftOut: [],
    blank: 0,
    twoReadings: [],
    named: new Map(),
  };
  const at = (use: LogUse['use']) => columns.flatMap((one, i) => (one.use.use === use ? [i] : []));
  const [dayAt = -1] = at('day');
  const units = at('unit');
  const head = units.length === 1 ? columns[units[0] ?? -1]?.name : '';
  const style = styleOf(shape);
  const wide = columns.flatMap(({ use, foreign }, column): Figure[] =>
    use.use === 'figure' ? [{ ...use, column, foreign }] : [],
  );
  const long = longReader(at('measure')[0], at('value')[0], at('sign')[0]);
  rows.forEach((row, i) => {
    const day = days[i] ?? null;
    const said = units.map((column) => row.cells[column]?.trim() ?? '').join(' ');
    const line: Line = { row, day: day ?? '', said: said.trim(), head };
    let filled = false;
    for (const one of long ? [...wide, long(row)] : wide) {
      const isEmpty = isBlank(row.cells[one.column] ?? '');
      if (isEmpty) cells.blank++;
      else if (day !== null) readFigure(cells, one, line, find, style);
      filled ||= !isEmpty;
    }
    if (filled && day === null) {
      const text = row.cells[dayAt] ?? '';
      cells.leftOut.push({ line: row.line, column: null, text, why: NO_DAY });
    }
  });
  return cells;
}

const NO_DAY = 'a day such as 2026-03-31 is expected';

/** A figure of a line, before it is read. */
interface Figure {
  column: number;
  measure: DeliveredMeasure | null;
  sign: string | null;
  foreign: string | null;
  name: string;
}

interface Line {
  row: ParsedLine;
  day: string;
  /** What it calls its unit, and the head over that. */
  said: string;
  head: string | undefined;
}

/** Of a table with a line a figure: what each line says of it. */
function longReader(
  measureAt: number | undefined,
  valueAt: number | undefined,
  signAt: number | undefined,
): ((row: ParsedLine) => Figure) | null {
  if (measureAt === undefined || valueAt === undefined) return null;
  const seen = new Map<string, Figure>();
  return ({ cells }) => {
    const [text, signText] = [
      cells[measureAt] ?? '',
      signAt === undefined ? '' : (cells[signAt] ?? ''),
    ];
    const key = `${text}\n${signText}`;
    const known = seen.get(key);
    if (known) return known;
    const { measure, sign, foreign, name } = headWords(text);
    const written = plainSigns(signText);
    const own = written === '' ? null : signIn(written, measure);
    const odd = written !== '' && measure !== 'ph' && own === null ? written : foreign;
    const figure = { column: valueAt, measure, sign: own?.sign ?? sign, foreign: odd, name };
    seen.set(key, figure);
    return figure;
  };
}

const NUMBER = /^([+\-−]?\s*[0-9.,\u00A0\u2009\u202F'’]*[0-9](?:e[+-]?[0-9]+)?[.,]?)\s*(\D.*)?$/iu;

function readFigure(
  cells: LogCells,
  one: Figure,
  { row, day, said, head }: Line,
  find: FindUnit,
  style: NumberStyle,
): void {
  const { column, measure } = one;
  const text = row.cells[column]?.trim() ?? '';
  const out = (why: string) => {
    cells.leftOut.push({ line: row.line, column, text, why });
  };
  if (measure === null) return out('none of EC, pH, temperature, lamp hours and PPFD');
  const inHead = one.name === '' ? undefined : find(one.name);
  // What a head says besides need not name a unit where a column does.
  const byHead = inHead !== undefined || (one.name !== '' && said === '');
  const name = byHead ? one.name : said;
  const unitId = byHead ? inHead : find(said, head);
  cells.named.set(name, (cells.named.get(name) ?? 0) + 1);
  if (unitId === undefined) {
    return out(name === '' ? 'no unit is said' : `the rack has no unit called ${name}`);
  }
  if (unitId === null) return out(`${name === '' ? 'lines without a unit' : name}: not used`);
  const [, digits = '', written = ''] = NUMBER.exec(text) ?? [];
  const behind = written === '' ? null : signIn(plainSigns(written), measure);
  if (digits === '' || (written !== '' && behind === null && measure !== 'ph')) {
    return out('a number is expected');
  }
  if (behind === null && one.foreign !== null) {
    return out(`${deliveredTraits[measure].name} cannot be told from ${one.foreign}`);
  }
  const sign = behind?.sign ?? one.sign ?? measureSigns[measure][0]?.sign ?? '';
  const exact = row.exact?.includes(column) === true;
  const read = exact
    ? Number(digits)
    : readCell(digits, style, (value) => inBounds(measure, inOwnUnit(measure, sign, value)));
  if (read === null) return out('a number is expected');
  if (typeof read === 'object') {
    cells.twoReadings.push({ line: row.line, column, text, ...read });
    return out(
      `can be ${read.asGrouped} or ${fieldNumber(read.asDecimal)}; the decimal mark has to be said`,
    );
  }
  const value = inOwnUnit(measure, sign, read);
  if (!inBounds(measure, value)) {
    const { name: called, unit, lowest, highest } = deliveredTraits[measure];
    const [found, most] = [value, highest].map((one) => `${figure(one)} ${unit}`.trim());
    return out(`${called} of ${found}: ${figure(lowest)} to ${most} is expected`);
  }
  cells.readings.push({ unitId, day, measure, value, line: row.line });
}

export const inBounds = (measure: DeliveredMeasure, value: number): boolean =>
  value >= deliveredTraits[measure].lowest && value <= deliveredTraits[measure].highest;

function styleOf({ columns, rows, decimal, decimalStated }: LogShape): NumberStyle {
  if (decimalStated) return { decimal, by: 'person' };
  const at = columns.flatMap(({ use }, i) =>
    use.use === 'figure' || use.use === 'value' ? [i] : [],
  );
  const digits = rows.flatMap(({ cells }) =>
    at.map((i) => NUMBER.exec(cells[i]?.trim() ?? '')?.[1] ?? ''),
  );
  return numberStyle(null, digits);
}
