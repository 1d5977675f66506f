import { responseDecimals, type Findings } from '../../engine/findings';
import { words, type Cell, type FindingsTable } from './cells';
import { fixed, rounded } from '../../words';

const UNITS: Record<string, string> = { light: 'µmol m⁻² s⁻¹', 'depth of water': 'mm' };

/** Every pot with all that entered the analysis, and what was measured, less what is told twice. */
export function dataTable(
  title: string,
  findings: Findings,
  without: readonly string[] = [],
): FindingsTable {
  const { table, roles, response, question, placed } = findings;
  const shown = [
    'pot',
    'shelf',
    'tray',
    'block',
    ...(placed ? ['row', 'column'] : []),
    ...roles.map((role) => role.column),
    'light',
    'depth of water',
    'starting value',
  ].filter((name) => varies(table.columns[name]) && !without.includes(name));
  const columns = shown.map((name) => {
    const cells = table.columns[name] ?? [];
    const unit = name === 'starting value' ? question.measurement.unit : unitOf(name, findings);
    const numeric = cells.some((cell) => typeof cell === 'number');
    return { head: name, numeric, ...(unit ? { unit } : {}), say: decimalsOf(cells) };
  });
  const measured = table.columns['response'] ?? [];
  const say = responseDecimals(findings) ?? decimalsOf(measured);
  return {
    name: 'data',
    caption: `${title}: every pot`,
    columns: [
      ...columns.map(({ head, numeric, unit }) => ({ head, numeric, ...(unit ? { unit } : {}) })),
      { head: response.name, unit: response.unit, numeric: true },
    ],
    rows: findings.pots.map((_, i) => [
      ...columns.map((column) => cellOf(table.columns[column.head]?.[i] ?? null, column.say)),
      cellOf(measured[i] ?? null, say),
    ]),
  };
}

function unitOf(name: string, { lightOverTrial }: Findings): string | undefined {
  const unit = UNITS[name];
  return name === 'light' && lightOverTrial ? `${unit ?? ''} over the trial` : unit;
}

/** A column of one value alone tells nothing of the pots, but for their names. */
function varies(cells: readonly unknown[] | undefined): boolean {
  return new Set((cells ?? []).filter((cell) => cell !== null)).size > 1;
}

function cellOf(cell: string | number | null, decimals: number): Cell {
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
