import type { DataTable } from '../../../../shared-types/fit';
import { lightWithin } from '../../trial/lightWithin';
import type { FindingsInput, Question } from '../question';
import { cellsOf } from './cells';
import { COLUMN, columnNames } from './columns';
import {
  rowsOfRun,
  runsAnswering,
  type PlaceOfPot,
  type Recorded,
  type RowOfRun,
  type WhyLeftOut,
} from './rows';

/** A property of each pot that the plan asks to be allowed for, whichever way position enters. */
export type Covariate = 'start' | 'depth';

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
  /** Runs taken together, and the factor whose levels are swapped between them; null: there is one. */
  runs: RunsTogether | null;
}

export interface RunsTogether {
  names: string[];
  /** Its id; null: each run was drawn by itself. */
  swapped: string | null;
}

/**
 * The long table that the fits read. A pot enters when it was drawn (or, in a trial without
 * factors, when it is no guard pot); its response is empty where it cannot be used, as that of a pot
 * without a value of something to be allowed for. Runs taken together stand one below the other, each
 * unit under the name of its run, and beside it the unit of the rack that it is.
 */
export function trialTable(
  input: FindingsInput,
  question: Question,
  setAside: ReadonlySet<string> = new Set(),
  asked: readonly Covariate[] = covariatesOf(input.trial),
): TrialTable {
  const runs = runsAnswering(input, question);
  const several = runs.length > 1;
  const parts = runs.map((run) => rowsOfRun(run, question, several));
  const rows = parts.flatMap(({ rows: all }) => all);
  const { factors } = input.trial;
  const factorColumns = columnNames(factors);
  const planned = { start: question.start !== null, depth: true };
  const { used, unused } = usable(asked, planned, {
    start: rows.map((row) => row.start),
    depth: rows.map((row) => row.depth),
  });
  const recorded = rows.map((row) => allowedFor(row, used, setAside));
  const light = lightOf(parts, recorded, factors);
  const columns = new Map<string, (string | number | null)[]>();
  rows.forEach((row, i) => {
    const cells = [
      ...cellsOf(row, factors, factorColumns, light[i] ?? null),
      [COLUMN.response, recorded[i]?.value ?? null] as const,
    ];
    for (const [name, value] of cells) {
      const own = columns.get(name);
      if (own) own.push(value);
      else columns.set(name, [value]);
    }
  });
  const lines = parts[0]?.grid ?? null;
  return {
    table: { columns: Object.fromEntries(columns), rowCount: rows.length },
    pots: rows.map((row) => row.named),
    leftOut: rows.flatMap(({ named }, i) => {
      const why = recorded[i]?.why;
      return why ? [{ pot: named, why }] : [];
    }),
    factorColumns,
    placed: true,
    lines: lines && { columns: [...lines.columns], unit: lines.unit },
    covariates: used.map((name) => COLUMN[name]),
    unused,
    runs: several
      ? {
          names: runs.map(({ run }) => run ?? ''),
          swapped: runs.find(({ bound }) => bound)?.bound?.swap.factorId ?? null,
        }
      : null,
  };
}

type Part = ReturnType<typeof rowsOfRun>;
type Factors = FindingsInput['trial']['factors'];

/** The response of a pot; without one where it was set aside, or lacks what is allowed for. */
function allowedFor(
  { named, start, depth, found }: RowOfRun,
  used: readonly Covariate[],
  setAside: ReadonlySet<string>,
): Recorded {
  const lacks: WhyLeftOut | null = setAside.has(named.id)
    ? 'set-aside'
    : used.includes('start') && start === undefined
      ? 'no-start'
      : used.includes('depth') && depth === undefined
        ? 'no-depth'
        : null;
  return found.value !== null && lacks ? { value: null, why: lacks } : found;
}

/** Light of each row as a covariate, among the pots of its run that have a response. */
function lightOf(
  parts: readonly Part[],
  recorded: readonly Recorded[],
  factors: Factors,
): (number | null)[] {
  return parts.flatMap(({ run, rows: of }, k) => {
    const before = parts.slice(0, k).reduce((n, part) => n + part.rows.length, 0);
    const analysed = of.filter((_, i) => recorded[before + i]?.value !== null);
    const within = lightWithin(
      factors,
      analysed.map(({ pot }) => pot),
      run.ppfdByPot,
    );
    return of.map(({ pot }) => within.get(pot.id) ?? null);
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
