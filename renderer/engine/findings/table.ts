import type { DataTable } from '../../../shared-types/fit';
import type { Assignment } from '../../../shared-types/layout';
import type { Factor } from '../../../shared-types/trial';
import { potsOfRack, type Pot } from '../geometry';
import type { FindingsInput, Question } from './question';

/** Why a planted pot is not in the analysis; `set-aside`: to see what the answer owes to it. */
export type LeftOut = 'dead' | 'missing' | 'excluded' | 'no-record' | 'not-positive' | 'set-aside';

/** What the findings need to know of a pot, or of a row of a table that came from elsewhere. */
export type Place = Pick<Pot, 'id' | 'code' | 'trayId' | 'shelfId'>;

/** One row a measured pot, in the order of the rack. */
export interface TrialTable {
  table: DataTable;
  /** Pot of each row. */
  pots: Place[];
  /** Measured pots without a usable response, with the reason. */
  leftOut: { pot: Place; why: LeftOut }[];
  /** Column of each factor, by factor id. */
  factorColumns: Map<string, string>;
  hasStart: boolean;
}

export const COLUMN = {
  response: 'response',
  start: 'starting value',
  ppfd: 'light',
  edge: 'place',
  block: 'block',
  shelf: 'shelf',
  tray: 'tray',
  row: 'row',
  column: 'column',
  pot: 'pot',
} as const;

/**
 * The long table that the fits read. A pot enters when it was drawn (or, in a trial without
 * factors, when it is no guard pot); its response is empty where it cannot be used.
 */
export function trialTable(
  input: FindingsInput,
  question: Question,
  setAside: ReadonlySet<string> = new Set(),
): TrialTable {
  const pots = potsOfRack(input.rack);
  const byId = new Map(pots.map((pot) => [pot.id, pot]));
  const assignments = input.layout?.assignments ?? null;
  const rows: { pot: Pot; assignment: Assignment | null }[] = assignments
    ? assignments.flatMap((assignment) => {
        const pot = byId.get(assignment.potId);
        return pot ? [{ pot, assignment }] : [];
      })
    : pots.filter((pot) => !pot.guard).map((pot) => ({ pot, assignment: null }));

  const trayCodes = new Map<string, string>();
  const shelfNames = new Map<string, string>();
  for (const shelf of input.rack.shelves) {
    shelfNames.set(shelf.id, `Shelf ${shelf.number}`);
    for (const tray of shelf.trays) trayCodes.set(tray.id, `${shelf.number}${tray.letter}`);
  }
  const factorColumns = columnNames(input.trial.factors);
  const columns: DataTable['columns'] = {};
  const push = (name: string, value: string | number | null) => {
    (columns[name] ??= []).push(value);
  };
  const leftOut: TrialTable['leftOut'] = [];
  const startValues = question.start ? (input.records.values[question.start.id] ?? {}) : {};

  for (const { pot, assignment } of rows) {
    const found = responseOf(input, question, pot);
    const aside = found.value !== null && setAside.has(pot.id);
    const { value, why }: Recorded = aside ? { value: null, why: 'set-aside' } : found;
    if (why) leftOut.push({ pot, why });
    push(COLUMN.pot, pot.code);
    push(COLUMN.shelf, shelfNames.get(pot.shelfId) ?? pot.shelfId);
    push(COLUMN.tray, trayCodes.get(pot.trayId) ?? pot.trayId);
    push(COLUMN.row, pot.row);
    push(COLUMN.column, pot.column);
    push(COLUMN.edge, pot.onEdge ? 'edge' : 'inner');
    push(COLUMN.block, assignment?.block ?? input.blockByPot.get(pot.id) ?? 'all');
    push(COLUMN.ppfd, input.ppfdByPot.get(pot.id) ?? null);
    push(COLUMN.start, startValues[pot.id] ?? null);
    for (const factor of input.trial.factors) {
      const levelId = assignment?.levels[factor.id];
      const level = factor.levels.find((l) => l.id === levelId);
      push(factorColumns.get(factor.id) ?? factor.name, level?.name ?? null);
    }
    push(COLUMN.response, value);
  }
  return {
    table: { columns, rowCount: rows.length },
    pots: rows.map((row) => row.pot),
    leftOut,
    factorColumns,
    hasStart: question.start !== null && Object.keys(startValues).length > 0,
  };
}

interface Recorded {
  value: number | null;
  why: LeftOut | null;
}

function responseOf(input: FindingsInput, question: Question, pot: Pot): Recorded {
  const mark = input.records.marks[pot.id];
  if (mark) return { value: null, why: mark.mark };
  const final = input.records.values[question.measurement.id]?.[pot.id];
  if (final === undefined) return { value: null, why: 'no-record' };
  if (question.index === 'final') return { value: final, why: null };
  const start = question.start && input.records.values[question.start.id]?.[pot.id];
  if (start === undefined || start === null) return { value: null, why: 'no-record' };
  if (question.index === 'gain') return { value: final - start, why: null };
  if (final <= 0 || start <= 0 || !question.days) return { value: null, why: 'not-positive' };
  return { value: Math.log(final / start) / question.days, why: null };
}

/** A factor may bear the name of one of our own columns; the fit must not confuse the two. */
export function columnNames(factors: readonly Factor[]): Map<string, string> {
  const taken = new Set<string>(Object.values(COLUMN));
  const names = new Map<string, string>();
  for (const factor of factors) {
    let name = factor.name;
    while (taken.has(name)) name = `${name} (factor)`;
    taken.add(name);
    names.set(factor.id, name);
  }
  return names;
}
