import Papa from 'papaparse';
import { findShelf, findTray, trayCode } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { measurementLabel } from '../queries/names';
import { measuredPots, measurementsInOrder } from '../queries/records';
import { guardText } from './formulaGuard';
import type { DecimalMark } from './number';
import type { Separator } from './table';

/**
 * All records as a table, one row a measured pot: pot, shelf, tray, row, column, block, one column
 * for every factor, plant, one for every measurement (with its unit), mark. Values keep all the
 * digits they were entered with. `readTable` and `matchTable` take it in again.
 *
 * Text that a spreadsheet would run as a formula is disarmed by the rule in formulaGuard.ts.
 * Lines end as RFC 4180 has it.
 */
export function recordsCsv(
  plan: Plan,
  options: { separator?: Separator; decimal?: DecimalMark } = {},
): string {
  const { separator = ',', decimal = '.' } = options;
  const factors = plan.trial?.factors ?? [];
  const measurements = measurementsInOrder(plan);
  const drawn = new Map(plan.layout?.assignments.map((a) => [a.potId, a]));
  const { values, marks } = plan.records;
  const number = (value: number | undefined) =>
    value === undefined ? '' : String(value).replace('.', decimal);

  const header = distinct([
    ...['pot', 'shelf', 'tray', 'row', 'column', 'block'],
    ...factors.map((factor) => factor.name),
    'plant',
    ...measurements.map((m) =>
      m.unit ? `${measurementLabel(m)} (${m.unit})` : measurementLabel(m),
    ),
    'mark',
  ]);
  const rows = measuredPots(plan).map((pot) => {
    const assignment = drawn.get(pot.id);
    const shelf = findShelf(plan.rack, pot.shelfId)?.number ?? 0;
    const letter = findTray(plan.rack, pot.trayId)?.tray.letter ?? '';
    return [
      guardText(pot.code),
      String(shelf),
      guardText(trayCode(shelf, letter)),
      String(pot.row),
      String(pot.column),
      guardText(assignment?.block ?? ''),
      ...factors.map((factor) => {
        const unitId = { shelf: pot.shelfId, tray: pot.trayId, pot: pot.id }[factor.unit];
        const levelId =
          assignment?.levels[factor.id] ??
          factor.where.find((place) => place.unitId === unitId)?.levelId;
        return guardText(factor.levels.find((level) => level.id === levelId)?.name ?? '');
      }),
      guardText(assignment?.plant ?? ''),
      ...measurements.map((m) => number(values[m.id]?.[pot.id])),
      marks[pot.id]?.mark ?? '',
    ];
  });
  const text = Papa.unparse([header.map(guardText), ...rows], { delimiter: separator });
  return `${text}\r\n`;
}

/** Column names made different: a second `tray` becomes `tray 2`. */
function distinct(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${name} ${n}`;
    taken.add(free.toLowerCase());
    return free;
  });
}
