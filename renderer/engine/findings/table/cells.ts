import type { Factor } from '../../../../shared-types/trial/trial';
import { COLUMN, ON_RACK } from './columns';
import type { RowOfRun } from './rows';
import { STRIPS } from './tableUnits';

type Cell = string | number | null;

/** What is known of a pot before its response, by column; `light` as a covariate. */
export function cellsOf(
  { part, pot, named, assignment, start, depth }: RowOfRun,
  factors: readonly Factor[],
  factorColumns: ReadonlyMap<string, string>,
  light: number | null,
): [string, Cell][] {
  const { run, ofRun } = part;
  const block = assignment?.block ?? run.blockByPot.get(pot.id) ?? 'all';
  return [
    [COLUMN.pot, named.code],
    ...unitCells(part, pot, factors),
    [COLUMN.row, pot.row],
    [COLUMN.column, pot.column],
    [COLUMN.edge, pot.onEdge ? 'edge' : 'inner'],
    [COLUMN.block, part.blocks > 1 ? ofRun(block) : block],
    [COLUMN.ppfd, light],
    [COLUMN.depth, depth ?? null],
    [COLUMN.start, start ?? null],
    ...factors.map((factor): [string, Cell] => {
      const levelId = assignment?.levels[factor.id];
      const level = factor.levels.find((l) => l.id === levelId);
      return [factorColumns.get(factor.id) ?? factor.name, level?.name ?? null];
    }),
  ];
}

/** The units that a pot lies in. Those that no factor stands on are left out: people read it too. */
function unitCells(
  { run, several, strips, grid, ofRun, namesOf }: RowOfRun['part'],
  pot: RowOfRun['pot'],
  factors: readonly Factor[],
): [string, Cell][] {
  const units = new Set(factors.map((factor) => factor.unit));
  const names = namesOf(pot);
  const cells: [string, Cell][] = [];
  if (several) cells.push([COLUMN.run, run.run ?? '']);
  cells.push([COLUMN.shelf, ofRun(names.shelf)]);
  if (units.has('zone')) cells.push([COLUMN.zone, ofRun(names.zone)]);
  if (units.has('bay')) cells.push([COLUMN.bay, ofRun(names.bay)]);
  cells.push([COLUMN.tray, ofRun(names.tray)]);
  if (several) {
    for (const [unit, name] of Object.entries(ON_RACK) as [keyof typeof ON_RACK, string][]) {
      if (units.has(unit)) cells.push([name, names[unit]]);
    }
  }
  if (strips) {
    for (const kind of STRIPS) {
      cells.push([COLUMN[kind], ofRun(strips.get(pot.id)?.[kind] ?? null)]);
    }
  }
  if (grid) {
    const [row, column] = grid.at.get(pot.id) ?? [null, null];
    cells.push([grid.columns[0], ofRun(row)], [grid.columns[1], ofRun(column)]);
  }
  return cells;
}
