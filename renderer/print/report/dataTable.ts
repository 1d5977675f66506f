import { COLUMN, responseDecimals, type Findings } from '../../engine/findings';
import { words, type ReportCell, type FindingsTable } from './cells';
import { fixed, rounded, shownIn, unitOf, type UnitSystem } from '../../words';

/** Every pot with all that entered the analysis, and what was measured, less what is told twice. */
export function dataTable(
  title: string,
  findings: Findings,
  lengths: UnitSystem,
  without: readonly string[] = [],
): FindingsTable {
  const { table, roles, response, question, placed } = findings;
  const shown = [
    COLUMN.pot,
    COLUMN.run,
    COLUMN.shelf,
    COLUMN.tray,
    COLUMN.block,
    ...(placed ? [COLUMN.row, COLUMN.column] : []),
    ...roles.map((role) => role.column),
    COLUMN.ppfd,
    COLUMN.depth,
    COLUMN.start,
  ].filter((name) => varies(table.columns[name]) && !without.includes(name));
  const columns = shown.map((name) => {
    const own = table.columns[name] ?? [];
    const cells = name === COLUMN.depth ? own.map((cell) => depthIn(lengths, cell)) : own;
    const unit =
      name === COLUMN.start ? question.measurement.unit : unitOfColumn(name, findings, lengths);
    const numeric = cells.some((cell) => typeof cell === 'number');
    return { head: name, cells, numeric, ...(unit ? { unit } : {}), say: decimalsOf(cells) };
  });
  const measured = table.columns[COLUMN.response] ?? [];
  const say = responseDecimals(findings) ?? decimalsOf(measured);
  return {
    name: 'data',
    caption: `${title}: every pot`,
    columns: [
      ...columns.map(({ head, numeric, unit }) => ({ head, numeric, ...(unit ? { unit } : {}) })),
      { head: response.name, unit: response.unit, numeric: true },
    ],
    rows: findings.pots.map((_, i) => [
      ...columns.map((column) => cellOf(column.cells[i] ?? null, column.say)),
      cellOf(measured[i] ?? null, say),
    ]),
  };
}

function unitOfColumn(
  name: string,
  { lightOverTrial }: Findings,
  lengths: UnitSystem,
): string | undefined {
  if (name === COLUMN.depth) return unitOf('length', lengths);
  if (name !== COLUMN.ppfd) return undefined;
  return `µmol m⁻² s⁻¹${lightOverTrial ? ' over the trial' : ''}`;
}

function depthIn(lengths: UnitSystem, cell: string | number | null): string | number | null {
  return typeof cell === 'number' ? shownIn('length', lengths, cell) : cell;
}

/** A column of one value alone tells nothing of the pots, but for their names. */
function varies(cells: readonly unknown[] | undefined): boolean {
  return new Set((cells ?? []).filter((cell) => cell !== null)).size > 1;
}

function cellOf(cell: string | number | null, decimals: number): ReportCell {
  if (cell === null) return { text: '–', value: null };
  if (typeof cell === 'string') return words(cell);
  return { text: fixed(cell, decimals), value: cell };
}

/** Whole numbers as such, others to four figures of the largest. */
function decimalsOf(cells: readonly (string | number | null)[]): number {
  const numbers = cells.filter((cell) => typeof cell === 'number');
  if (numbers.every(Number.isInteger)) return 0;
  const largest = Math.max(...numbers.map(Math.abs));
  const most = Math.min(8, Math.max(0, 3 - Math.floor(Math.log10(largest))));
  for (let decimals = 0; decimals < most; decimals++) {
    if (numbers.every((v) => Math.abs(v - rounded(v, decimals)) < 1e-9)) return decimals;
  }
  return most;
}
