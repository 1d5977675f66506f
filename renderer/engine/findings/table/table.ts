import type { DataTable } from '../../../../shared-types/fit';
import type { Assignment } from '../../../../shared-types/layout';
import type { Measurement } from '../../../../shared-types/trial';
import { potsOfRack, type Pot } from '../../geometry';
import { lightWithin } from '../../trial/lightWithin';
import type { FindingsInput, Question } from '../question';
import { daysLate } from '../refused/saturation';
import { COLUMN, columnNames } from './columns';
import { unitNamesOf, STRIPS, stripsOf, lineNamesOf } from './tableUnits';

/** Why a planted pot is not in the analysis; `set-aside`: to see what the answer owes to it. */
export type WhyLeftOut =
  | 'dead'
  | 'missing'
  | 'excluded'
  | 'no-record'
  | 'not-positive'
  | 'no-start'
  | 'no-depth'
  | 'set-aside';

/** A property of each pot that the plan asks to be allowed for, whichever way position enters. */
export type Covariate = 'start' | 'depth';

/** What the findings need to know of a pot, or of a row of a table that came from elsewhere. */
export type PlaceOfPot = Pick<Pot, 'id' | 'code' | 'trayId' | 'shelfId'>;

/** One row a measured pot, in the order of the rack. */
export interface TrialTable {
  table: DataTable;
  /** Pot of each row. */
  pots: PlaceOfPot[];
  /** Measured pots without a usable response, with the reason. */
  leftOut: { pot: PlaceOfPot; why: WhyLeftOut }[];
  /** Column of each factor, by factor id. */
  factorColumns: Map<string, string>;
  /** Whether rows and columns are places; without places no position model can be tried. */
  placed: boolean;
  /** Rows and columns over which the scheme balanced the treatments; null for other schemes. */
  lines: { columns: string[]; unit: 'tray' | 'pot' } | null;
  /** Columns that are allowed for at each pot. */
  covariates: string[];
  /** What the plan asks to be allowed for and cannot be, each as a sentence. */
  unused: string[];
}

/**
 * The long table that the fits read. A pot enters when it was drawn (or, in a trial without
 * factors, when it is no guard pot); its response is empty where it cannot be used, as that of a pot
 * without a value of something to be allowed for.
 */
export function trialTable(
  input: FindingsInput,
  question: Question,
  setAside: ReadonlySet<string> = new Set(),
  asked: readonly Covariate[] = covariatesOf(input.trial),
): TrialTable {
  const rows = rowsOf(input);
  const namesOf = unitNamesOf(input);
  const factorColumns = columnNames(input.trial.factors);
  const units = new Set(input.trial.factors.map((factor) => factor.unit));
  const strips = stripsOf(input);
  const grid = lineNamesOf(input);
  const columns = new Map<string, (string | number | null)[]>();
  const push = (name: string, value: string | number | null) => {
    const cells = columns.get(name);
    if (cells) cells.push(value);
    else columns.set(name, [value]);
  };
  const leftOut: TrialTable['leftOut'] = [];
  const startValues = question.start ? (input.records.values[question.start.id] ?? {}) : {};
  const planned = { start: question.start !== null, depth: true };
  const { used, unused } = usable(asked, planned, {
    start: rows.map(({ pot }) => startValues[pot.id]),
    depth: rows.map(({ pot }) => input.wetDepthByPot?.get(pot.id)),
  });

  const recordedOf = (pot: Pot): Recorded => {
    const found = responseOf(input, question, pot);
    const lacks: WhyLeftOut | null = setAside.has(pot.id)
      ? 'set-aside'
      : used.includes('start') && startValues[pot.id] === undefined
        ? 'no-start'
        : used.includes('depth') && input.wetDepthByPot?.get(pot.id) === undefined
          ? 'no-depth'
          : null;
    return found.value !== null && lacks ? { value: null, why: lacks } : found;
  };
  const recorded = new Map(rows.map(({ pot }) => [pot.id, recordedOf(pot)] as const));
  const analysed = rows.flatMap(({ pot }) => (recorded.get(pot.id)?.value === null ? [] : [pot]));
  const light = lightWithin(input.trial.factors, analysed, input.ppfdByPot);
  for (const { pot, assignment } of rows) {
    const depth = input.wetDepthByPot?.get(pot.id);
    const { value, why } = recorded.get(pot.id) ?? recordedOf(pot);
    if (why) leftOut.push({ pot, why });
    push(COLUMN.pot, pot.code);
    const names = namesOf(pot);
    push(COLUMN.shelf, names.shelf);
    // Units that no factor stands on are left out: the table is read by people too.
    if (units.has('zone')) push(COLUMN.zone, names.zone);
    if (units.has('bay')) push(COLUMN.bay, names.bay);
    push(COLUMN.tray, names.tray);
    if (strips) {
      for (const kind of STRIPS) push(COLUMN[kind], strips.get(pot.id)?.[kind] ?? null);
    }
    if (grid) {
      const [row, column] = grid.at.get(pot.id) ?? [null, null];
      push(grid.columns[0], row);
      push(grid.columns[1], column);
    }
    push(COLUMN.row, pot.row);
    push(COLUMN.column, pot.column);
    push(COLUMN.edge, pot.onEdge ? 'edge' : 'inner');
    push(COLUMN.block, assignment?.block ?? input.blockByPot.get(pot.id) ?? 'all');
    push(COLUMN.ppfd, light.get(pot.id) ?? null);
    push(COLUMN.depth, depth ?? null);
    push(COLUMN.start, startValues[pot.id] ?? null);
    for (const factor of input.trial.factors) {
      const levelId = assignment?.levels[factor.id];
      const level = factor.levels.find((l) => l.id === levelId);
      push(factorColumns.get(factor.id) ?? factor.name, level?.name ?? null);
    }
    push(COLUMN.response, value);
  }
  return {
    table: { columns: Object.fromEntries(columns), rowCount: rows.length },
    pots: rows.map((row) => row.pot),
    leftOut,
    factorColumns,
    placed: true,
    lines: grid && { columns: [...grid.columns], unit: grid.unit },
    covariates: used.map((name) => COLUMN[name]),
    unused,
  };
}

/** The pots that enter, with what the draw gave them. */
function rowsOf({ rack, layout }: FindingsInput): { pot: Pot; assignment: Assignment | null }[] {
  const pots = potsOfRack(rack);
  if (!layout) return pots.filter((pot) => !pot.guard).map((pot) => ({ pot, assignment: null }));
  const byId = new Map(pots.map((pot) => [pot.id, pot]));
  return layout.assignments.flatMap((assignment) => {
    const pot = byId.get(assignment.potId);
    return pot ? [{ pot, assignment }] : [];
  });
}

function covariatesOf(trial: FindingsInput['trial']): Covariate[] {
  return [
    ...(trial.startCovariate ? ['start' as const] : []),
    ...(trial.wetDepthCovariate ? ['depth' as const] : []),
  ];
}

/** Tells what can be allowed for from what is the same everywhere, or known nowhere. */
function usable(
  asked: readonly Covariate[],
  planned: Record<Covariate, boolean>,
  values: Record<Covariate, readonly (number | undefined)[]>,
): { used: Covariate[]; unused: string[] } {
  const words: Record<Covariate, string> = {
    start: 'the value at the start',
    depth: 'the depth of water at each pot',
  };
  const used: Covariate[] = [];
  const unused: string[] = [];
  for (const name of asked) {
    const known = values[name].filter((v) => v !== undefined);
    const varies = known.length > 0 && Math.max(...known) - Math.min(...known) > 1e-9;
    if (varies) used.push(name);
    // A trial without a measurement at the start asks for nothing by the usual setting.
    else if (known.length > 0 || planned[name]) {
      unused.push(
        `The plan asks to allow for ${words[name]}, which is ` +
          `${known.length > 0 ? 'the same everywhere' : 'not known'} and so was left out.`,
      );
    }
  }
  return { used, unused };
}

interface Recorded {
  value: number | null;
  why: WhyLeftOut | null;
}

function responseOf(input: FindingsInput, question: Question, pot: Pot): Recorded {
  const mark = input.records.marks[pot.id];
  if (mark) return { value: null, why: mark.mark };
  const final = input.records.values[question.measurement.id]?.[pot.id];
  if (final === undefined) return { value: null, why: 'no-record' };
  if (question.index === 'final') return { value: final, why: null };
  const begun = question.start;
  const start = begun && input.records.values[begun.id]?.[pot.id];
  if (!begun || start === undefined || start === null) return { value: null, why: 'no-start' };
  if (question.index === 'gain') return { value: final - start, why: null };
  if (final <= 0 || start <= 0 || !question.days) return { value: null, why: 'not-positive' };
  const late = (m: Measurement) => daysLate(input, m, pot.id);
  const days = question.days + late(question.measurement) - late(begun);
  if (days <= 0) return { value: null, why: 'not-positive' };
  return { value: Math.log(final / start) / days, why: null };
}
