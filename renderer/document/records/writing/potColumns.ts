import { findShelf, findTray, trayCode } from '../../../engine/geometry';
import type { Pot } from '../../../engine/geometry';
import type { Assignment } from '../../../../shared-types/layout';
import type { Plan } from '../../../../shared-types/plan';
import type { Factor } from '../../../../shared-types/trial/trial';
import type { CellOut } from '../../../tables';
import { blindedSince } from '../../queries/blinding';
import { hasSeveralRuns, runNumber, seenFromEach } from '../../runs';
import { RUN_COLUMN } from '../columns';

/** What a column of an exported table holds, as its dictionary says it. */
export type DictionaryEntry = [meaning: string, kind: string, unit: string, values: string];

interface PotColumn {
  name: string;
  entry: DictionaryEntry;
  /** `assignment`: the pot's place in the drawn layout, if it has one. */
  cell(pot: Pot, assignment: Assignment | undefined): CellOut;
}

/** The columns that say which pot a line is about, and what it was given. */
export function potColumnsOf(plan: Plan): PotColumn[] {
  const numberOf = (pot: Pot) => findShelf(plan.rack, pot.shelfId)?.number ?? 0;
  const trayOf = (pot: Pot) =>
    trayCode(numberOf(pot), findTray(plan.rack, pot.trayId)?.tray.letter ?? '');
  return [
    ...(hasSeveralRuns(plan) ? [runColumn(plan)] : []),
    {
      name: 'pot',
      entry: ['Code of the pot: shelf, tray, row, column', 'text', '', ''],
      cell: (pot) => pot.code,
    },
    {
      name: 'shelf',
      entry: ['Number of the shelf, from the floor up', 'whole number', '', ''],
      cell: numberOf,
    },
    {
      name: 'tray',
      entry: ['Code of the tray: shelf and letter', 'text', '', ''],
      cell: trayOf,
    },
    {
      name: 'row',
      entry: ['Row of the pot in its tray, counted from the front', 'whole number', '', ''],
      cell: (pot) => pot.row,
    },
    {
      name: 'column',
      entry: ['Column of the pot in its tray, counted from the left', 'whole number', '', ''],
      cell: (pot) => pot.column,
    },
    {
      name: 'block',
      entry: ['Block of the layout; empty: none', 'text', '', ''],
      cell: (_, assignment) => assignment?.block ?? '',
    },
    // A table of a blinded trial tells no treatments; of several runs, those of the open ones alone.
    ...(isOpenSomewhere(plan) ? (plan.trial?.factors ?? []) : []).map((factor) =>
      factorColumn(factor, blindedSince(plan) === null),
    ),
    {
      name: 'plant',
      entry: ['Code of the plant in the pot; empty: none', 'text', '', ''],
      cell: (_, assignment) => assignment?.plant ?? '',
    },
  ];
}

function runColumn(plan: Plan): PotColumn {
  return {
    name: RUN_COLUMN,
    entry: ['Run of the trial, in the order of time', 'whole number', '', ''],
    cell: () => runNumber(plan),
  };
}

const isOpenSomewhere = (plan: Plan): boolean =>
  [plan, ...seenFromEach(plan)].some((seen) => blindedSince(seen) === null);

function factorColumn(factor: Factor, isOpen: boolean): PotColumn {
  const how = factor.kind === 'randomised' ? 'randomised' : 'fixed';
  const names = factor.levels.map((level) => level.name).join(' | ');
  return {
    name: factor.name,
    entry: [`Factor, ${how} by ${factor.unit}`, 'word', '', names],
    cell: (pot, assignment) => {
      if (!isOpen) return '';
      const unitId =
        factor.unit === 'shelf' ? pot.shelfId : factor.unit === 'tray' ? pot.trayId : pot.id;
      const levelId =
        assignment?.levels[factor.id] ??
        factor.where.find((place) => place.unitId === unitId)?.levelId;
      return factor.levels.find((level) => level.id === levelId)?.name ?? '';
    },
  };
}

/** The cells of those columns for one pot after another. */
export function potCells(plan: Plan): (pot: Pot) => CellOut[] {
  const columns = potColumnsOf(plan);
  const drawn = new Map(plan.layout?.assignments.map((a) => [a.potId, a]));
  return (pot) => columns.map(({ cell }) => cell(pot, drawn.get(pot.id)));
}

/** Column names made different: a second `tray` becomes `tray 2`. */
export function distinctNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${name} ${n}`;
    taken.add(free.toLowerCase());
    return free;
  });
}
