import type { Factor, UnitKind } from '../../../../shared-types/trial/trial';
import { type TrialTable } from '../table/table';
import { COLUMN, ON_RACK } from '../table/columns';

/** What a factor can be in the analysis, told from the pots as they stand. */
export interface FactorRole {
  factor: Factor;
  column: string;
  /** What its levels were laid on. */
  unit: UnitKind;
  /**
   * Table column of those units. Of several runs together each run's units are units of their own,
   * unless the factor kept its place on the rack in all of them.
   */
  unitColumn: string;
  /** Units that carry each level and have a usable pot, by level name. */
  unitsPerLevel: Map<string, number>;
  /** Some level has at least two units, so that there is something to judge it by. */
  replicated: boolean;
}

export function factorRoles(trialTable: TrialTable, factors: readonly Factor[]): FactorRole[] {
  return factors.map((factor) => {
    const column = trialTable.factorColumns.get(factor.id) ?? factor.name;
    const levels = trialTable.table.columns[column] ?? [];
    const judgedBy = unitColumnFor(trialTable, column, factor.unit);
    const seen = new Map<string, Set<string>>();
    const responses = trialTable.table.columns[COLUMN.response] ?? [];
    trialTable.pots.forEach((_, i) => {
      const level = levels[i];
      if (level === null || level === undefined || responses[i] === null) return;
      const unit = String(trialTable.table.columns[judgedBy]?.[i]);
      const units = seen.get(String(level)) ?? new Set<string>();
      units.add(unit);
      seen.set(String(level), units);
    });
    const unitsPerLevel = new Map([...seen].map(([level, units]) => [level, units.size]));
    return {
      factor,
      column,
      unit: factor.unit,
      unitColumn: judgedBy,
      unitsPerLevel,
      replicated: unitsPerLevel.size >= 2 && [...unitsPerLevel.values()].some((n) => n >= 2),
    };
  });
}

/** Levels that have pots, in the order in which the plan lists them. */
export function levelOrder(role: Pick<FactorRole, 'factor' | 'unitsPerLevel'>): string[] {
  return role.factor.levels.map((level) => level.name).filter((n) => role.unitsPerLevel.has(n));
}

/** Adjusted means and the like in the order of the plan's levels, the first factor slowest. */
export function inPlanOrder<Row extends Record<string, unknown>>(
  rows: readonly Row[],
  of: readonly string[],
  roles: readonly FactorRole[],
): Row[] {
  const ranks = of.map((column) => {
    const role = roles.find((r) => r.column === column);
    return new Map((role ? levelOrder(role) : []).map((name, i) => [name, i]));
  });
  return [...rows].sort((a, b) => {
    for (const [i, column] of of.entries()) {
      const rank = (row: Row) => ranks[i]?.get(String(row[column])) ?? 0;
      if (rank(a) !== rank(b)) return rank(a) - rank(b);
    }
    return 0;
  });
}

/** Distinct values of a column, in order of appearance. */
export function levelsPresent(trialTable: TrialTable, column: string): string[] {
  const values = trialTable.table.columns[column] ?? [];
  return [...new Set(values.filter((v) => v !== null).map(String))];
}

/** Whether every unit named by `unitColumn` holds one level only of `column`. */
export function constantWithinUnits(
  trialTable: TrialTable,
  column: string,
  unitColumn: string,
): boolean {
  const values = trialTable.table.columns[column] ?? [];
  const units = trialTable.table.columns[unitColumn] ?? [];
  const first = new Map<string, string>();
  for (let i = 0; i < trialTable.table.rowCount; i++) {
    const unit = String(units[i]);
    const value = String(values[i]);
    const known = first.get(unit);
    if (known === undefined) first.set(unit, value);
    else if (known !== value) return false;
  }
  return true;
}

function unitColumnFor(trialTable: TrialTable, column: string, unit: UnitKind): string {
  const stays = onRack(unit);
  return trialTable.runs && stays && constantWithinUnits(trialTable, column, stays)
    ? stays
    : unitColumn(unit);
}

/** Table column of the unit of the rack on which a run's unit stands; null where a pot is its unit. */
export function onRack(unit: UnitKind): string | null {
  return unit in ON_RACK ? ON_RACK[unit as keyof typeof ON_RACK] : null;
}

/** Table column of a unit. */
export function unitColumn(unit: UnitKind): string {
  return COLUMN[unit];
}
