import { findShelf, findTray, trayCode } from '../../engine/geometry';
import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { CellOut } from '../../tables';

/** Names of the columns that say which pot a line is about, and what it was given. */
export function potColumnNames(plan: Plan): string[] {
  const factors = plan.trial?.factors ?? [];
  return [
    ...['pot', 'shelf', 'tray', 'row', 'column', 'block'],
    ...factors.map((factor) => factor.name),
    'plant',
  ];
}

/** The cells of those columns for one pot after another. */
export function potCells(plan: Plan): (pot: Pot) => CellOut[] {
  const factors = plan.trial?.factors ?? [];
  const drawn = new Map(plan.layout?.assignments.map((a) => [a.potId, a]));
  return (pot) => {
    const assignment = drawn.get(pot.id);
    const shelf = findShelf(plan.rack, pot.shelfId)?.number ?? 0;
    const letter = findTray(plan.rack, pot.trayId)?.tray.letter ?? '';
    return [
      pot.code,
      shelf,
      trayCode(shelf, letter),
      pot.row,
      pot.column,
      assignment?.block ?? '',
      ...factors.map((factor) => {
        const unitId =
          factor.unit === 'shelf' ? pot.shelfId : factor.unit === 'tray' ? pot.trayId : pot.id;
        const levelId =
          assignment?.levels[factor.id] ??
          factor.where.find((place) => place.unitId === unitId)?.levelId;
        return factor.levels.find((level) => level.id === levelId)?.name ?? '';
      }),
      assignment?.plant ?? '',
    ];
  };
}

/** Column names made different: a second `tray` becomes `tray 2`. */
export function distinct(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${name} ${n}`;
    taken.add(free.toLowerCase());
    return free;
  });
}
