import type { DataTable } from '../../../../shared-types/fit';
import { positionModelLabels, type PositionModel } from '../../../../shared-types/trial/position';
import { list, Refusal } from '../../../words';
import { unitWords } from '../../../../shared-types/trial/trial';
import { designModel, type DesignModel } from './designModel';
import { constantWithinUnits, type FactorRole } from './roles';
import { isCounts, type ResponseScale } from './scale';
import { type TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';

/** How counts were averaged over the pots of one unit that were treated alike. */
export interface Averaged {
  /** What was fitted: a row a mean, under the name of its unit and treatment. */
  table: DataTable;
  /** Ids of the pots behind each mean, by the id that stands for the mean in the checks. */
  members: ReadonlyMap<string, readonly string[]>;
  /** Columns of the finest units within which pots were averaged. */
  units: string[];
  /** Whether treatments within a unit give it more than one mean. */
  byTreatment: boolean;
  /** Whether half a count was added to every total, because some total was zero. */
  half: boolean;
}

/** What the fits read: the table itself, or its means per unit and treatment. */
export interface Analysed {
  data: TrialTable;
  design: DesignModel;
  scale: ResponseScale;
  /** null: every pot by itself. */
  averaged: Averaged | null;
}

/**
 * Counts with a factor on whole units are analysed by the logarithm of the mean count per unit and
 * treatment: a model of counts has no variation among units, by which such a factor is judged. Where
 * a total is zero, half a count is added to each: for Poisson totals of mean μ the logarithm of a total
 * plus c has the expectation log μ + (c − ½)/μ to this order. Means weigh alike, however many pots are
 * left in them.
 *
 * `onScale`: the values are no counts but stand on the scale of the analysis already, as those that
 * a rehearsal makes up; they are averaged as they are.
 */
export function analysedOf(
  data: TrialTable,
  roles: readonly FactorRole[],
  scale: ResponseScale,
  onScale = false,
): Analysed {
  const design = designModel(data, roles);
  const own = onScale ? null : scale;
  if (!isCounts(scale) || design.randomUnits.length === 0) {
    return { data, design, scale: own, averaged: null };
  }
  const { means, averaged } = averagedOf(data, design, onScale);
  const ofMeans = designModel(means, roles);
  return { data: means, design: ofMeans, scale: onScale ? null : 'log', averaged };
}

function averagedOf(
  data: TrialTable,
  design: DesignModel,
  onScale: boolean,
): { means: TrialTable; averaged: Averaged } {
  const { columns } = data.table;
  const units = [...new Set(design.randomUnits.flat())];
  const finest = units.filter(
    (unit, i) =>
      !units.some(
        (other, j) =>
          j !== i &&
          constantWithinUnits(data, unit, other) &&
          // Of two names of the same units one is kept.
          (j < i || !constantWithinUnits(data, other, unit)),
      ),
  );
  const factors = [...design.tested, ...design.notReplicated].map((role) => role.column);
  const fixed = design.fixedBlocks.filter((name) => name !== COLUMN.block);
  const groups = groupsOf(data, [...units, ...fixed, ...factors]);
  const responses = columns[COLUMN.response] ?? [];
  const totals = groups.map((rows) => sumOf(responses, rows));
  const half = !onScale && totals.includes(0);
  const finer = factors.filter(
    (name) => !finest.some((unit) => constantWithinUnits(data, name, unit)),
  );
  const named = (rows: readonly number[]) =>
    [...finest, ...finer].map((name) => String(columns[name]?.[rows[0] ?? -1])).join(' ');
  const pots = groups.flatMap((rows) => {
    const pot = data.pots[rows[0] ?? -1];
    return pot ? [{ ...pot, code: named(rows) }] : [];
  });
  const table: DataTable = {
    columns: {
      ...Object.fromEntries(
        Object.entries(columns).map(([name, cells]) => [name, shared(cells, groups)]),
      ),
      [COLUMN.pot]: pots.map(({ code }) => code),
      // A mean stands nowhere: in a row of its own it is nobody's neighbour.
      [COLUMN.row]: groups.map((_, i) => 2 * i),
      [COLUMN.column]: groups.map((_, i) => 2 * i),
      [COLUMN.edge]: groups.map(() => 'inner'),
      [COLUMN.response]: groups.map(
        (rows, i) => ((totals[i] ?? 0) + (half ? 0.5 : 0)) / rows.length,
      ),
    },
    rowCount: groups.length,
  };
  const { lines } = data;
  const means: TrialTable = {
    ...data,
    table,
    pots,
    placed: false,
    lines: lines?.unit === 'tray' ? lines : null,
  };
  const members = new Map(
    groups.map((rows, i) => [pots[i]?.id ?? '', rows.flatMap((row) => data.pots[row]?.id ?? [])]),
  );
  return {
    means,
    averaged: { table, members, units: finest, byTreatment: finer.length > 0, half },
  };
}

/** Rows with a response that agree in all of the columns, in order of appearance. */
function groupsOf({ table }: TrialTable, by: readonly string[]): number[][] {
  const responses = table.columns[COLUMN.response] ?? [];
  const groups = new Map<string, number[]>();
  for (let i = 0; i < table.rowCount; i++) {
    if (typeof responses[i] !== 'number') continue;
    const key = by.map((name) => String(table.columns[name]?.[i])).join('\n');
    const rows = groups.get(key);
    if (rows) rows.push(i);
    else groups.set(key, [i]);
  }
  return [...groups.values()];
}

/**
 * A column over groups: numbers as their mean; a name where all of a group share it. A name that
 * varies within some group tells none apart, as blocks within a tray over which its pots are averaged.
 */
function shared(
  cells: DataTable['columns'][string],
  groups: readonly (readonly number[])[],
): (string | number | null)[] {
  const alike = groups.every((rows) => rows.every((row) => cells[row] === cells[rows[0] ?? -1]));
  return groups.map((rows) => {
    if (alike) return cells[rows[0] ?? -1] ?? null;
    if (rows.some((row) => typeof cells[row] !== 'number')) return 'all';
    return sumOf(cells, rows) / rows.length;
  });
}

function sumOf(cells: readonly (string | number | null)[], rows: readonly number[]): number {
  return rows.reduce((sum, row) => sum + Number(cells[row]), 0);
}

/** `tray and treatment`: what has one mean. */
function perWords({ units, byTreatment }: Averaged): string {
  return list([...units, ...(byTreatment ? ['treatment'] : [])]);
}

/** `trays` of the column `tray`. */
function manyOf(column: string): string {
  const unit = Object.values(unitWords).find(({ one }) => one === column);
  return unit?.many ?? `${column}s`;
}

/** `trays`: the units whose means they are. */
function unitsWords({ units }: Averaged): string {
  return list(units.map(manyOf));
}

/** What the residual of a fit of means is the variation among. */
export function amongMeans(averaged: Averaged): string {
  return averaged.byTreatment
    ? `means of one ${list(averaged.units)}`
    : `${unitsWords(averaged)} treated alike`;
}

/** Throws with the reason where a position model looks at places within the units of means. */
export function refusePlaceOfMeans(model: PositionModel, averaged: Averaged): void {
  if (looksBetweenUnits(model)) return;
  throw new Refusal(
    `counts were averaged per ${perWords(averaged)}, and a mean has no row or column`,
  );
}

/** Light differs between units too; what else position is, a mean has none of. */
export function looksBetweenUnits(model: PositionModel): boolean {
  switch (model) {
    case 'none':
    case 'light':
      return true;
    case 'edge':
    case 'linear':
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return false;
    default:
      return model satisfies never;
  }
}

/** How made-up harvests stand in for the counts, as a sentence. */
export function rehearsedMeansWords(averaged: Averaged): string {
  return `They are averaged per ${perWords(averaged)}, as the counts of the findings are.`;
}

/** How the counts were taken, as sentences. */
export function averagedWords(averaged: Averaged, planned: PositionModel): string[] {
  const unit = list(averaged.units);
  const single = [...averaged.members.values()].every((pots) => pots.length === 1);
  return [
    single
      ? `Each ${unit} has one pot of a treatment; the logarithm of its count was analysed.`
      : `Counts were averaged per ${perWords(averaged)}; the logarithm of these means was analysed.`,
    `Means shown are geometric means of ${unit} means; differences are ratios.`,
    ...(averaged.half
      ? ['Some total was zero, so half a count was added to every total; the means shown hold it.']
      : []),
    looksBetweenUnits(planned)
      ? `A mean has no row or column, so place within ${unitsWords(averaged)} was left out.`
      : `A mean has no row or column, so the planned correction for place (${positionModelLabels[planned]}) was left out.`,
  ];
}
