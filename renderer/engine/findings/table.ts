import type { DataTable } from '../../../shared-types/fit';
import type { Assignment } from '../../../shared-types/layout';
import type { Factor, Measurement } from '../../../shared-types/trial';
import { baysOf, potsOfRack, type Pot } from '../geometry';
import { lightWithin } from '../trial/lightWithin';
import { zoneByTray } from '../trial/trialPot';
import type { Partition } from '../trial/partition';
import { schemeUsesGrid, siteOf } from '../trial/site';
import { gridLinesOf } from '../trial/strata';
import type { FindingsInput, Question } from './question';
import { daysLate } from './refused/saturation';

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

export const COLUMN = {
  response: 'response',
  start: 'starting value',
  ppfd: 'light',
  depth: 'depth of water',
  edge: 'place',
  block: 'block',
  shelf: 'shelf',
  zone: 'reservoir',
  bay: 'bay',
  tray: 'tray',
  'row-strip': 'strip of rows',
  'column-strip': 'strip of columns',
  row: 'row',
  column: 'column',
  'grid-row': 'row of the square',
  'grid-column': 'column of the square',
  'shelf-place': 'place on the shelf',
  pot: 'pot',
} as const;

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
  const grid = linesOf(input);
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

/** What the units that a pot stands on are called. A tray that no zone floods is one by itself. */
function unitNamesOf({
  rack,
  zones,
}: FindingsInput): (pot: Pot) => Record<'shelf' | 'bay' | 'zone' | 'tray', string> {
  const zoneOf = zoneByTray(zones);
  const bays = new Map<string, string>();
  const trays = new Map<string, string>();
  const shelves = new Map<string, string>();
  for (const shelf of rack.shelves) {
    shelves.set(shelf.id, `Shelf ${shelf.number}`);
    for (const bay of baysOf(shelf)) bays.set(bay.id, bay.name);
    for (const tray of shelf.trays) trays.set(tray.id, `${shelf.number}${tray.letter}`);
  }
  return (pot) => {
    const tray = trays.get(pot.trayId) ?? pot.trayId;
    return {
      shelf: shelves.get(pot.shelfId) ?? pot.shelfId,
      bay: bays.get(pot.bayId) ?? pot.bayId,
      zone: zoneOf.get(pot.trayId)?.name ?? tray,
      tray,
    };
  };
}

const STRIPS = ['row-strip', 'column-strip'] as const;

/** Names of the strips that each pot is part of; null where nothing is laid on strips. */
function stripsOf(
  input: FindingsInput,
): Map<string, Record<(typeof STRIPS)[number], string>> | null {
  const { rack, trial, ppfdByPot, zones } = input;
  if (!trial.factors.some(({ unit }) => unit === 'row-strip' || unit === 'column-strip')) {
    return null;
  }
  const { pots, unitOf, unitNames } = siteOf({ rack, trial, ppfdByPot, zones });
  const name = (kind: (typeof STRIPS)[number], i: number) =>
    unitNames[kind][unitOf[kind].classOf[i] ?? 0] ?? '';
  return new Map(
    pots.map((pot, i) => [
      pot.id,
      { 'row-strip': name('row-strip', i), 'column-strip': name('column-strip', i) },
    ]),
  );
}

/** Names of the row and the column of each pot, where the scheme lays treatments along them. */
function linesOf(input: FindingsInput): {
  unit: 'tray' | 'pot';
  columns: readonly [string, string];
  at: Map<string, [string, string]>;
} | null {
  const { rack, trial, ppfdByPot, zones } = input;
  if (!schemeUsesGrid(trial.scheme)) return null;
  const site = siteOf({ rack, trial, ppfdByPot, zones });
  const grid = gridLinesOf(site);
  if (!grid) return null;
  const { unit, rows, columns } = grid;
  const number = (line: Partition, i: number) => String((line.classOf[i] ?? 0) + 1);
  return {
    unit,
    columns:
      unit === 'tray'
        ? [COLUMN['grid-row'], COLUMN['shelf-place']]
        : [COLUMN['grid-row'], COLUMN['grid-column']],
    at: new Map(site.pots.map((pot, i) => [pot.id, [number(rows, i), number(columns, i)]])),
  };
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

/** What a row of adjusted means holds beside its levels, and what a result calls by itself. */
const FIGURES = [
  ...['mean', 'se', 'df', 'lower', 'upper', 'day'],
  ...['backTransformed', 'backTransformedLower', 'backTransformedUpper'],
  ...['residual', '(intercept)', '__proto__'],
];

/**
 * The column of each factor, by its id. A factor may bear the name of one of our own columns or
 * figures, or hold the sign that crosses two factors; a fit must not confuse them.
 */
export function columnNames(factors: readonly Factor[]): Map<string, string> {
  const taken = new Set<string>([...Object.values(COLUMN), ...FIGURES]);
  const names = new Map<string, string>();
  for (const factor of factors) {
    let name = factor.name.replaceAll(' × ', ' x ');
    while (taken.has(name)) name = `${name} (factor)`;
    taken.add(name);
    names.set(factor.id, name);
  }
  return names;
}
