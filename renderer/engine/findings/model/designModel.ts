import { unitKinds, type UnitKind } from '../../../../shared-types/trial/trial';
import { constantWithinUnits, levelsPresent, onRack, unitColumn, type FactorRole } from './roles';
import { COLUMN } from '../table/columns';
import type { TrialTable } from '../table/table';

/** What the design says about the model, apart from how position enters it. */
export interface DesignModel {
  /** Factors that can be tested. */
  tested: FactorRole[];
  /** Factors whose levels each sit on one unit only; described, never tested. */
  notReplicated: FactorRole[];
  fixedBlocks: string[];
  /** Rows and columns of the pots' own grid, for the models that do not bring in their own. */
  potLines: string[];
  randomUnits: string[][];
  covariates: string[];
}

/**
 * Blocks, strata and covariates that the design asks for. A factor laid on trays or shelves is
 * judged by the variation among trays or shelves, which therefore enter as random units; blocks
 * are fixed, unless a factor varies only between them. Rows and columns over which the treatments
 * were balanced are fixed too, or the balance would not show in the error.
 */
export function designModel(trialTable: TrialTable, roles: readonly FactorRole[]): DesignModel {
  const tested = roles.filter((role) => role.replicated);
  const notReplicated = roles.filter((role) => !role.replicated && role.unitsPerLevel.size > 1);
  const { lines } = trialTable;
  const hasBlocks = levelsPresent(trialTable, COLUMN.block).length > 1;
  const blockHoldsAll = tested.every(
    (role) => !constantWithinUnits(trialTable, role.column, COLUMN.block),
  );
  const fixedBlocks: string[] = hasBlocks && blockHoldsAll ? [COLUMN.block] : [];
  if (lines?.unit === 'tray') addFiner(trialTable, fixedBlocks, lines.columns);
  if (trialTable.runs) addFiner(trialTable, fixedBlocks, [COLUMN.run]);
  for (const { unitColumn: column } of notReplicated) {
    const covered = fixedBlocks.some((b) => constantWithinUnits(trialTable, column, b));
    if (column !== COLUMN.pot && !covered && !fixedBlocks.includes(column)) {
      fixedBlocks.push(column);
    }
  }
  const randomUnits = unitKinds.flatMap((unit) =>
    unitsCarrying(trialTable, unit, tested, fixedBlocks),
  );
  if (stripsCross(trialTable, randomUnits)) randomUnits.push(STRIPS);
  if (
    hasBlocks &&
    !blockHoldsAll &&
    !randomUnits.some(([unit]) => unit !== undefined && sameSplit(trialTable, unit, COLUMN.block))
  ) {
    randomUnits.unshift([COLUMN.block]);
  }
  return {
    tested,
    notReplicated,
    fixedBlocks,
    potLines: lines?.unit === 'pot' ? lines.columns : [],
    randomUnits,
    covariates: [...trialTable.covariates],
  };
}

const STRIPS = [COLUMN['row-strip'], COLUMN['column-strip']];

/** Random units of the factors that lie on units of one kind, those that fixed blocks don't hold. */
function unitsCarrying(
  trialTable: TrialTable,
  unit: UnitKind,
  tested: readonly FactorRole[],
  fixedBlocks: readonly string[],
): string[][] {
  const carried = tested.filter((role) => role.unit === unit);
  if (unit === 'pot' || carried.length === 0) return [];
  const column = unitColumn(unit);
  const stays = onRack(unit);
  // Swapped levels meet every unit of the rack, so that its own worth is no part of their error.
  const staysApart =
    trialTable.runs !== null &&
    carried.some(
      (role) => role.unitColumn === stays || role.factor.id === trialTable.runs?.swapped,
    );
  const alreadyFixed = fixedBlocks.some((b) => sameSplit(trialTable, b, column));
  const holdSeveral = levelsPresent(trialTable, column).length < trialTable.table.rowCount;
  return [
    ...(stays !== null && staysApart ? [[stays]] : []),
    ...(!alreadyFixed && holdSeveral ? [[column]] : []),
  ];
}

/**
 * Where strips cross, the effect of one factor at a level of the other is judged by the crossings; a
 * crossing of a single pot is what is left over anyway.
 */
function stripsCross({ table }: TrialTable, randomUnits: readonly string[][]): boolean {
  const { columns, rowCount } = table;
  if (!STRIPS.every((strip) => randomUnits.some(([unit]) => unit === strip))) return false;
  const crossings = Array.from({ length: rowCount }, (_, i) =>
    STRIPS.map((strip) => String(columns[strip]?.[i])).join('\n'),
  );
  return new Set(crossings).size < rowCount;
}

const sameSplit = (trialTable: TrialTable, a: string, b: string): boolean =>
  constantWithinUnits(trialTable, a, b) && constantWithinUnits(trialTable, b, a);

/** Adds columns to a list, instead of those that are coarser than them. */
function addFiner(trialTable: TrialTable, list: string[], columns: readonly string[]): void {
  for (const column of columns) {
    if (list.some((kept) => constantWithinUnits(trialTable, column, kept))) continue;
    const finer = list.filter((kept) => !constantWithinUnits(trialTable, kept, column));
    list.splice(0, list.length, ...finer, column);
  }
}
