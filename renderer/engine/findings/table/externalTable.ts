import type { DataTable } from '../../../../shared-types/fit';
import type { Factor } from '../../../../shared-types/trial/trial';
import type { PositionModel } from '../../../../shared-types/trial/position';
import { layoutsForFindings, tableAllocation } from '../model/allocation';
import { analyseTable } from '../analyseTable';
import type { FindingsOutcome } from '../findings';
import type { Question } from '../question';
import { isCounts, type ResponseScale } from '../model/scale';
import type { WhyLeftOut } from './rows';
import type { TrialTable } from './table';
import { COLUMN, columnNames } from './columns';
import { Refusal } from '../../../words';

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
  const read = readersOf(source, reading.response);
  const { response } = read;
  refuseUnplaced(reading);
  const fill = <T>(value: T) => response.map(() => value);
  const names = reading.pot ? read.texts(reading.pot) : response.map((_, i) => `row ${i + 1}`);
  const tray = reading.tray ? read.texts(reading.tray) : fill('all');
  const shelf = reading.shelf ? read.texts(reading.shelf) : fill('all');
  // Trays are told apart within their shelf, as trays that are called A on every shelf are.
  const trayOfShelf = tray.map((name, i) => (reading.shelf ? `${shelf[i] ?? ''} ${name}` : name));
  // Without places every pot stands alone in a row of its own: nothing then is its neighbour.
  const row = reading.row ? read.numbers(reading.row) : response.map((_, i) => 2 * i);
  const column = reading.column ? read.numbers(reading.column) : response.map((_, i) => 2 * i);
  const factors = factorsOf(reading, read.texts);
  const factorColumns = columnNames(factors);
  const columns: DataTable['columns'] = {
    [COLUMN.pot]: names,
    [COLUMN.shelf]: shelf,
    [COLUMN.tray]: trayOfShelf,
    [COLUMN.row]: row,
    [COLUMN.column]: column,
    [COLUMN.edge]: reading.row ? edges(row, column, trayOfShelf) : fill('inner'),
    [COLUMN.block]: reading.block ? read.texts(reading.block) : fill('all'),
    [COLUMN.ppfd]: reading.light ? read.numbers(reading.light) : fill(null),
    [COLUMN.depth]: fill(null),
    [COLUMN.start]: reading.start ? read.numbers(reading.start) : fill(null),
    [COLUMN.response]: response,
  };
  for (const factor of factors) {
    columns[factorColumns.get(factor.id) ?? factor.name] = read.texts(factor.name);
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
  const data: TrialTable = {
    table: { columns, rowCount: source.rowCount },
    pots,
    leftOut,
    factorColumns,
    placed: reading.row !== null,
    lines: null,
    runs: null,
    ...startCovariate(columns[COLUMN.start] ?? []),
  };
  return { data, factors };
}

/** Reads columns by name. A cell may be empty only in a row without a response. */
function readersOf(source: DataTable, responseColumn: string) {
  const cells = (name: string): DataTable['columns'][string] => {
    const column = Object.hasOwn(source.columns, name) ? source.columns[name] : undefined;
    if (!column) {
      throw new Refusal(
        `column "${name}": not in the table; expected one of ${Object.keys(source.columns).join(', ')}`,
      );
    }
    return column;
  };
  const isEmpty = (cell: string | number | null) => cell === null || cell === '';
  const numberIn = (name: string, cell: string | number, i: number): number => {
    const value = typeof cell === 'number' ? cell : Number(cell.replace(',', '.'));
    if (!Number.isFinite(value)) {
      throw new Refusal(`${name}, row ${i + 1}: found "${cell}"; expected a number`);
    }
    return value;
  };
  const response = cells(responseColumn).map((cell, i) =>
    cell === null || cell === '' ? null : numberIn(responseColumn, cell, i),
  );
  const refuseEmpty = (name: string, i: number, expected: string) => {
    if (response[i] === null) return;
    throw new Refusal(`${name}, row ${i + 1}: an empty cell; expected ${expected}`);
  };
  return {
    response,
    numbers: (name: string): (number | null)[] =>
      cells(name).map((cell, i) => {
        if (cell !== null && cell !== '') return numberIn(name, cell, i);
        refuseEmpty(name, i, 'a number');
        return null;
      }),
    texts: (name: string): string[] =>
      cells(name).map((cell, i) => {
        if (isEmpty(cell)) refuseEmpty(name, i, 'a name');
        return String(cell ?? '');
      }),
  };
}

/** Throws where a factor's units, or half of the places, are in no column. */
function refuseUnplaced(reading: TableReading): void {
  for (const { column, unit } of reading.factors) {
    const lacking = (unit === 'shelf' || unit === 'tray') && reading[unit] === null;
    if (lacking) {
      throw new Refusal(
        `${column}: each of its treatments is for single ${unit === 'shelf' ? 'shelves' : 'trays'}, but no column names them; expected one`,
      );
    }
  }
  if ((reading.row === null) !== (reading.column === null)) {
    throw new Refusal('position: one of row and column alone says nothing; expected both or none');
  }
}

function factorsOf(reading: TableReading, texts: (name: string) => string[]): Factor[] {
  return reading.factors.map(({ column: name, kind, unit }, f) => ({
    id: `f${f + 1}`,
    name,
    kind,
    unit,
    levels: [...new Set(texts(name))]
      .filter((level) => level !== '')
      .map((level, l) => ({ id: `v${(f + 1) * 1000 + l}`, name: level })),
    where: [],
  }));
}

/** Starting values are allowed for where they differ. */
function startCovariate(
  starts: DataTable['columns'][string],
): Pick<TrialTable, 'covariates' | 'unused'> {
  const known = starts.filter((v) => typeof v === 'number');
  if (known.length === 0) return { covariates: [], unused: [] };
  if (Math.max(...known) > Math.min(...known)) return { covariates: [COLUMN.start], unused: [] };
  return {
    covariates: [],
    unused: ['The starting value is the same everywhere and so was left out.'],
  };
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
