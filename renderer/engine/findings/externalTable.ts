import type { DataTable } from '../../../shared-types/fit';
import type { Factor, PositionModel } from '../../../shared-types/trial';
import { layoutsForFindings, tableAllocation } from './allocation';
import { analyseTable, type FindingsOutcome } from './findings';
import type { Question } from './question';
import { isCounts, type ResponseScale } from './scale';
import { COLUMN, columnNames, type WhyLeftOut, type TrialTable } from './table';
import { Refusal } from '../../words';

/** What the columns of a table from elsewhere mean. Names are those of its own columns. */
export interface TableReading {
  /** What the trial is called. */
  title: string;
  response: string;
  unit: string;
  factors: { column: string; kind: Factor['kind']; unit: 'shelf' | 'tray' | 'pot' }[];
  block: string | null;
  /** Names of trays and shelves; a factor laid on trays or shelves needs its own. */
  shelf: string | null;
  tray: string | null;
  /** Whole numbers, counted within trays. */
  row: string | null;
  column: string | null;
  /** Numbers to be allowed for: the starting value, the light at each pot. */
  start: string | null;
  light: string | null;
  /** Name of each pot; without it rows are counted. */
  pot: string | null;
  alpha: number;
  position: PositionModel;
  /** The scale that the response is analysed on; null: as measured. */
  scale?: ResponseScale;
}

/**
 * The findings of a trial that was not planned here, from its table in long form (a row a pot).
 * Throws, naming column and row, where a cell is not what its column should hold.
 */
export function findingsOfTable(source: DataTable, reading: TableReading): FindingsOutcome {
  const { data, factors } = tableOf(source, reading);
  const question: Question = {
    measurement: {
      id: 'm1',
      name: reading.response,
      kind: isCounts(reading.scale ?? null) ? 'count' : 'weight',
      unit: reading.unit,
      decimals: 2,
      timepoint: 'harvest',
      date: null,
      lowest: null,
      highest: null,
      ...(reading.scale ? { scale: reading.scale } : {}),
    },
    start: null,
    index: 'final',
    days: null,
  };
  return analyseTable(data, {
    question,
    factors,
    alpha: reading.alpha,
    plannedModel: reading.position,
    analysisLocked: 'table',
    primaryOnly: false,
    allocationOf: (design) =>
      tableAllocation(data, design, {
        runs: layoutsForFindings(reading.alpha),
        seed: reading.title || 'table',
      }),
  });
}

/** The table in our own columns, with its factors as those of a trial. */
export function tableOf(
  source: DataTable,
  reading: TableReading,
): { data: TrialTable; factors: Factor[] } {
  const n = source.rowCount;
  const cells = (name: string): DataTable['columns'][string] => {
    const column = Object.hasOwn(source.columns, name) ? source.columns[name] : undefined;
    if (!column) {
      throw new Refusal(
        `column "${name}": not in the table; expected one of ${Object.keys(source.columns).join(', ')}`,
      );
    }
    return column;
  };
  const numbers = (name: string, needed: boolean): (number | null)[] =>
    cells(name).map((cell, i) => {
      if (cell === null || cell === '') {
        if (needed && response[i] !== null) {
          throw new Refusal(`${name}, row ${i + 1}: an empty cell; expected a number`);
        }
        return null;
      }
      const value = typeof cell === 'number' ? cell : Number(cell.replace(',', '.'));
      if (!Number.isFinite(value)) {
        throw new Refusal(`${name}, row ${i + 1}: found "${cell}"; expected a number`);
      }
      return value;
    });
  const texts = (name: string): string[] =>
    cells(name).map((cell, i) => {
      if ((cell === null || cell === '') && response[i] !== null) {
        throw new Refusal(`${name}, row ${i + 1}: an empty cell; expected a name`);
      }
      return String(cell ?? '');
    });
  let response: (number | null)[] = [];
  response = numbers(reading.response, false);
  for (const { column, unit } of reading.factors) {
    const lacking = (unit === 'shelf' || unit === 'tray') && reading[unit] === null;
    if (lacking) {
      throw new Refusal(
        `${column}: it is laid on single ${unit === 'shelf' ? 'shelves' : 'trays'}, but no column names them; expected one`,
      );
    }
  }
  if ((reading.row === null) !== (reading.column === null)) {
    throw new Refusal('position: one of row and column alone says nothing; expected both or none');
  }

  const names = reading.pot ? texts(reading.pot) : response.map((_, i) => `row ${i + 1}`);
  const fill = <T>(value: T) => response.map(() => value);
  const tray = reading.tray ? texts(reading.tray) : fill('all');
  const shelf = reading.shelf ? texts(reading.shelf) : fill('all');
  // Trays are told apart within their shelf, as trays that are called A on every shelf are.
  const trayOfShelf = tray.map((name, i) => (reading.shelf ? `${shelf[i] ?? ''} ${name}` : name));
  // Without places every pot stands alone in a row of its own: nothing then is its neighbour.
  const row = reading.row ? numbers(reading.row, true) : response.map((_, i) => 2 * i);
  const column = reading.column ? numbers(reading.column, true) : response.map((_, i) => 2 * i);
  const place = reading.row ? edges(row, column, trayOfShelf) : fill('inner');

  const factors = reading.factors.map(({ column: name, kind, unit }, f): Factor => ({
    id: `f${f + 1}`,
    name,
    kind,
    unit,
    levels: [...new Set(texts(name))]
      .filter((level) => level !== '')
      .map((level, l) => ({ id: `v${(f + 1) * 1000 + l}`, name: level })),
    where: [],
  }));
  const factorColumns = columnNames(factors);
  const columns: DataTable['columns'] = {
    [COLUMN.pot]: names,
    [COLUMN.shelf]: shelf,
    [COLUMN.tray]: trayOfShelf,
    [COLUMN.row]: row,
    [COLUMN.column]: column,
    [COLUMN.edge]: place,
    [COLUMN.block]: reading.block ? texts(reading.block) : fill('all'),
    [COLUMN.ppfd]: reading.light ? numbers(reading.light, true) : fill(null),
    [COLUMN.depth]: fill(null),
    [COLUMN.start]: reading.start ? numbers(reading.start, true) : fill(null),
    [COLUMN.response]: response,
  };
  for (const factor of factors) {
    columns[factorColumns.get(factor.id) ?? factor.name] = texts(factor.name);
  }
  const pots = names.map((code, i) => ({
    id: `row:${i + 1}`,
    code,
    trayId: trayOfShelf[i] ?? '',
    shelfId: shelf[i] ?? '',
  }));
  const leftOut = pots.flatMap((pot, i): { pot: typeof pot; why: WhyLeftOut }[] =>
    response[i] === null ? [{ pot, why: 'no-record' }] : [],
  );
  const starts = (columns[COLUMN.start] ?? []).filter((v) => typeof v === 'number');
  const varies = starts.length > 0 && Math.max(...starts) > Math.min(...starts);
  const data: TrialTable = {
    table: { columns, rowCount: n },
    pots,
    leftOut,
    factorColumns,
    placed: reading.row !== null,
    lines: null,
    covariates: varies ? [COLUMN.start] : [],
    unused:
      starts.length > 0 && !varies
        ? ['The starting value is the same everywhere and so was left out.']
        : [],
  };
  return { data, factors };
}

/** Edge pots stand in the first or last row or column of their tray. */
function edges(
  row: readonly (number | null)[],
  column: readonly (number | null)[],
  tray: readonly string[],
): string[] {
  const reach = new Map<string, { rows: number[]; columns: number[] }>();
  tray.forEach((name, i) => {
    const box = reach.get(name) ?? { rows: [], columns: [] };
    const [r, c] = [row[i], column[i]];
    if (typeof r === 'number') box.rows.push(r);
    if (typeof c === 'number') box.columns.push(c);
    reach.set(name, box);
  });
  return tray.map((name, i) => {
    const { rows = [], columns = [] } = reach.get(name) ?? {};
    const ends = [Math.min(...rows), Math.max(...rows)];
    const sides = [Math.min(...columns), Math.max(...columns)];
    return ends.includes(row[i] ?? NaN) || sides.includes(column[i] ?? NaN) ? 'edge' : 'inner';
  });
}
