import type { DataTable } from '../../../../shared-types/fit';
import type { TableReading } from '../../../engine/findings';
import { dataTableOf, isBlank, readNumber, type TextTable } from '../../../tables';
import { list } from '../../../words';

/** What a column of a table from elsewhere may be. */
export type ColumnRole =
  | 'nothing'
  | 'response'
  | 'factor pot'
  | 'factor tray'
  | 'factor shelf'
  | 'given pot'
  | 'block'
  | 'tray'
  | 'tray block'
  | 'shelf'
  | 'shelf block'
  | 'row'
  | 'column'
  | 'start'
  | 'light'
  | 'pot';

export const ROLE_WORDS: readonly { value: ColumnRole; label: string }[] = [
  { value: 'nothing', label: 'not used' },
  { value: 'response', label: 'measured at harvest' },
  { value: 'factor pot', label: 'treatment of single pots' },
  { value: 'factor tray', label: 'treatment of whole trays' },
  { value: 'factor shelf', label: 'treatment of whole shelves' },
  { value: 'given pot', label: 'a property of the plant' },
  { value: 'block', label: 'block' },
  { value: 'tray', label: 'name of the tray' },
  { value: 'tray block', label: 'tray, each a block' },
  { value: 'shelf', label: 'name of the shelf' },
  { value: 'shelf block', label: 'shelf, each a block' },
  { value: 'row', label: 'row in the tray' },
  { value: 'column', label: 'column in the tray' },
  { value: 'start', label: 'starting value' },
  { value: 'light', label: 'light at the pot' },
  { value: 'pot', label: 'name of the pot' },
];

/** Roles that stand for two. */
const MEANS: Partial<Record<ColumnRole, readonly ColumnRole[]>> = {
  'tray block': ['tray', 'block'],
  'shelf block': ['shelf', 'block'],
};

const NAMED: readonly [RegExp, ColumnRole][] = [
  [/^(pot|plant|code|id)$/i, 'pot'],
  [/^(block|rep|replicate)$/i, 'block'],
  [/^tray/i, 'tray'],
  [/^shelf/i, 'shelf'],
  [/^rows?$/i, 'row'],
  [/^(col|column)s?$/i, 'column'],
  [/^(ppfd|light_?umol|ppfd_umol)/i, 'light'],
  [/^start|^initial/i, 'start'],
];

/** A first guess from names and cells: the last column of different numbers is what was measured. */
export function guessRoles(table: TextTable): ColumnRole[] {
  const cells = (c: number) => table.rows.map((row) => row.cells[c] ?? '');
  const roles = table.columns.map((name): ColumnRole => {
    return NAMED.find(([pattern]) => pattern.test(name.trim()))?.[1] ?? 'nothing';
  });
  const numeric = table.columns.map((_, c) =>
    cells(c).every((cell) => isBlank(cell) || readNumber(cell, table.decimal) !== null),
  );
  const response = [...table.columns.keys()]
    .reverse()
    .find((c) => roles[c] === 'nothing' && numeric[c] && new Set(cells(c)).size > 8);
  if (response !== undefined) roles[response] = 'response';
  table.columns.forEach((_, c) => {
    const different = new Set(cells(c)).size;
    if (roles[c] === 'nothing' && different > 1 && different <= 12) {
      roles[c] = factorRole(cells, roles, c);
    }
  });
  return roles;
}

/** The widest unit within which a factor never varies is what it was laid on. */
function factorRole(
  cells: (c: number) => string[],
  roles: readonly ColumnRole[],
  factor: number,
): ColumnRole {
  const levels = cells(factor);
  const shelf = roles.findIndex((role) => role === 'shelf' || role === 'shelf block');
  const tray = roles.findIndex((role) => role === 'tray' || role === 'tray block');
  const shelves = shelf < 0 ? null : cells(shelf);
  // Trays may be called A on every shelf.
  const trays =
    tray < 0 ? null : cells(tray).map((name, i) => JSON.stringify([shelves?.[i], name]));
  if (shelves && isConstant(levels, shelves)) return 'factor shelf';
  return trays && isConstant(levels, trays) ? 'factor tray' : 'factor pot';
}

/** Factors that are to be judged by smaller units than those within which they never vary. */
export function widerUnits(table: TextTable, roles: readonly ColumnRole[]): string[] {
  const cells = (c: number) => table.rows.map((row) => row.cells[c] ?? '');
  const size: Partial<Record<ColumnRole, number>> = {
    'given pot': 1,
    'factor pot': 1,
    'factor tray': 2,
    'factor shelf': 3,
  };
  return table.columns.flatMap((name, c) => {
    const chosen = size[roles[c] ?? 'nothing'];
    if (chosen === undefined || new Set(cells(c)).size < 2) return [];
    const role = factorRole(cells, roles, c);
    if ((size[role] ?? 0) <= chosen) return [];
    const unit = role === 'factor shelf' ? ['shelf', 'shelves'] : ['tray', 'trays'];
    return [
      `“${name}” never varies within a ${unit[0] ?? ''}. Judged by smaller units, chance can look like a result: take it as treatment of whole ${unit[1] ?? ''}.`,
    ];
  });
}

/** Whether no unit holds two levels, of units that hold several pots. */
function isConstant(levels: readonly string[], units: readonly string[]): boolean {
  const first = new Map<string, string>();
  levels.forEach((level, i) => {
    const unit = units[i] ?? '';
    if (!first.has(unit)) first.set(unit, level);
  });
  return (
    first.size > 1 &&
    first.size < levels.length &&
    levels.every((level, i) => first.get(units[i] ?? '') === level)
  );
}

/** A unit in brackets behind the name of what was measured; counts have none, weights grams. */
export function guessUnit(table: TextTable, roles: readonly ColumnRole[]): string {
  const response = roles.indexOf('response');
  const name = table.columns[response] ?? '';
  const stated = /[([]([^()[\]]{1,20})[)\]]\s*$/.exec(name)?.[1]?.trim();
  if (stated !== undefined) return stated;
  const whole = table.rows.every((row) => {
    const cell = row.cells[response] ?? '';
    return isBlank(cell) || Number.isInteger(readNumber(cell, table.decimal));
  });
  return whole ? '' : 'g';
}

const NUMERIC = new Set<ColumnRole>(['response', 'row', 'column', 'start', 'light']);

/** The table with numbers read where a column is to hold numbers. */
export function dataTableBy(table: TextTable, roles: readonly ColumnRole[]): DataTable {
  return dataTableOf(table, (column) => NUMERIC.has(roles[column] ?? 'nothing'));
}

/** The reading of the columns, or the sentence that says what is wanted still. */
export function readingOf(
  table: TextTable,
  roles: readonly ColumnRole[],
  given: Pick<TableReading, 'title' | 'unit' | 'alpha' | 'position' | 'scale'>,
): { ok: true; reading: TableReading } | { ok: false; missing: string } {
  const columnsOf = (role: ColumnRole) =>
    table.columns.filter((_, c) => (MEANS[roles[c] ?? 'nothing'] ?? [roles[c]]).includes(role));
  const singles = ['response', 'block', 'tray', 'shelf', 'row', 'column', 'start', 'light', 'pot'];
  for (const role of singles as ColumnRole[]) {
    const found = columnsOf(role);
    if (found.length > 1) {
      const word = ROLE_WORDS.find((r) => r.value === role)?.label ?? role;
      return {
        ok: false,
        missing: `${list(found)} are ${found.length > 2 ? 'all' : 'both'} “${word}”; one is expected.`,
      };
    }
  }
  const one = (role: ColumnRole) => columnsOf(role)[0] ?? null;
  const response = one('response');
  if (response === null) return { ok: false, missing: 'Say which column was measured at harvest.' };
  const factors = table.columns.flatMap((column, c): TableReading['factors'] => {
    switch (roles[c]) {
      case 'factor pot':
        return [{ column, kind: 'randomised', unit: 'pot' }];
      case 'given pot':
        return [{ column, kind: 'fixed', unit: 'pot' }];
      case 'factor tray':
        return [{ column, kind: 'randomised', unit: 'tray' }];
      case 'factor shelf':
        return [{ column, kind: 'randomised', unit: 'shelf' }];
      default:
        return [];
    }
  });
  return {
    ok: true,
    reading: {
      ...given,
      response,
      factors,
      block: one('block'),
      shelf: one('shelf'),
      tray: one('tray'),
      row: one('row'),
      column: one('column'),
      start: one('start'),
      light: one('light'),
      pot: one('pot'),
    },
  };
}
