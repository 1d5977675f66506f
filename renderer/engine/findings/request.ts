import {
  fitRequestSchema,
  placeTraits,
  type FitRequest,
  type GridModel,
} from '../../../shared-types/fit';
import { positionTakes, unitKinds, type PositionModel } from '../../../shared-types/trial';
import type { Allocation } from '../stats/randomisation';
import { controlOf, plannedFor } from './sizes/planned';
import { constantWithinUnits, levelsPresent, onRack, unitColumn, type FactorRole } from './roles';
import { fitScale, type ResponseScale } from './scale';
import { type TrialTable } from './table/table';
import { COLUMN } from './table/columns';

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
  const fixedBlocks: string[] = [];
  const randomUnits: string[][] = [];
  const hasBlocks = levelsPresent(trialTable, COLUMN.block).length > 1;
  const blockHoldsAll = tested.every(
    (role) => !constantWithinUnits(trialTable, role.column, COLUMN.block),
  );
  if (hasBlocks && blockHoldsAll) fixedBlocks.push(COLUMN.block);
  const { lines } = trialTable;
  if (lines?.unit === 'tray') addFiner(trialTable, fixedBlocks, lines.columns);
  if (trialTable.runs) addFiner(trialTable, fixedBlocks, [COLUMN.run]);
  for (const role of notReplicated) {
    const column = role.unitColumn;
    const covered = fixedBlocks.some((b) => constantWithinUnits(trialTable, column, b));
    if (column !== COLUMN.pot && !covered && !fixedBlocks.includes(column)) {
      fixedBlocks.push(column);
    }
  }
  for (const unit of unitKinds) {
    if (unit === 'pot') continue;
    const column = unitColumn(unit);
    const carried = tested.filter((role) => role.unit === unit);
    const carries = carried.length > 0;
    const stays = onRack(unit);
    // Swapped levels meet every unit of the rack, so that its own worth is no part of their error.
    if (
      trialTable.runs &&
      stays !== null &&
      carried.some(
        (role) => role.unitColumn === stays || role.factor.id === trialTable.runs?.swapped,
      )
    ) {
      randomUnits.push([stays]);
    }
    const alreadyFixed = fixedBlocks.some(
      (b) =>
        constantWithinUnits(trialTable, b, column) && constantWithinUnits(trialTable, column, b),
    );
    if (
      carries &&
      !alreadyFixed &&
      levelsPresent(trialTable, column).length < trialTable.table.rowCount
    ) {
      randomUnits.push([column]);
    }
  }
  // Where strips cross, the effect of one factor at a level of the other is judged by the crossings;
  // a crossing of a single pot is what is left over anyway.
  const crossing = [COLUMN['row-strip'], COLUMN['column-strip']];
  const { columns, rowCount } = trialTable.table;
  const crossings = new Set(
    Array.from({ length: rowCount }, (_, i) =>
      crossing.map((strip) => String(columns[strip]?.[i])).join('\n'),
    ),
  );
  if (
    crossing.every((strip) => randomUnits.some(([unit]) => unit === strip)) &&
    crossings.size < rowCount
  ) {
    randomUnits.push(crossing);
  }
  if (
    hasBlocks &&
    !blockHoldsAll &&
    !randomUnits.some((u) => sameSplit(trialTable, u[0], COLUMN.block))
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

/** Adds columns to a list, instead of those that are coarser than them. */
function addFiner(trialTable: TrialTable, list: string[], columns: readonly string[]): void {
  for (const column of columns) {
    if (list.some((kept) => constantWithinUnits(trialTable, column, kept))) continue;
    const finer = list.filter((kept) => !constantWithinUnits(trialTable, kept, column));
    list.splice(0, list.length, ...finer, column);
  }
}

/** What is asked of one fit beside its model. */
export interface Asked {
  confidence: number;
  edgeVaries: boolean;
  /** Everything that is shown of the model that answers, not only what the models share. */
  whole?: boolean;
  /** null: as measured. */
  scale?: ResponseScale;
  /** How chance laid the factors on pots; null: it did not. */
  allocation?: Allocation | null;
}

/** The model over rows and columns; null where place enters in another way, or not at all. */
export function gridModelOf(position: PositionModel): GridModel | null {
  switch (position) {
    case 'linear':
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return position;
    case 'none':
    case 'edge':
    case 'light':
      return null;
    default:
      return position satisfies never;
  }
}

/** Whether a fit under it needs a covariance of its own, and so more time and layouts drawn anew. */
export function hasCovariance(position: PositionModel): boolean {
  const model = gridModelOf(position);
  return model !== null && placeTraits[model].covarianceOf !== null;
}

/** Whether the likeness of neighbours is part of it. */
export function modelsNeighbours(position: PositionModel): boolean {
  const model = gridModelOf(position);
  return model !== null && placeTraits[model].covarianceOf === 'neighbours';
}

/** The fit that answers the question under one position model. */
export function requestFor(
  design: DesignModel,
  position: PositionModel,
  options: Asked,
): FitRequest {
  const treatments = design.tested.map((role) => role.column);
  const interactions = subsets(treatments).filter((set) => set.length >= 2);
  const covariates = [...design.covariates];
  const takes = positionTakes[position];
  if (takes === 'light') covariates.push(COLUMN.ppfd);
  const withEdge = takes === 'edge' && options.edgeVaries;
  const gridModel = gridModelOf(position);
  const fixedBlocks = [...design.fixedBlocks, ...(gridModel === null ? design.potLines : [])];
  const contrasts = design.tested.flatMap((role) => plannedFor(role, seen(role)));
  const request = fitRequestSchema.parse({
    response: COLUMN.response,
    ...fitScale(options.scale ?? null),
    treatments: withEdge ? [COLUMN.edge, ...treatments] : treatments,
    interactions: interactions.length > 0 ? interactions : 'none',
    covariates,
    fixedBlocks,
    randomUnits: design.randomUnits,
    position: gridModel
      ? { row: COLUMN.row, column: COLUMN.column, within: [COLUMN.tray], model: gridModel }
      : null,
    tests: 'marginal',
    // Without units the pots are the units; a position model with a covariance of its own then
    // takes Kenward and Roger's.
    denominator: 'units',
    means: [
      ...treatments.map((t) => [t]),
      ...interactions.filter((set) => set.length === 2),
      ...(withEdge ? [[COLUMN.edge]] : []),
    ],
    compare: [
      ...comparisons(design, options.whole === true),
      ...(withEdge ? [{ means: [COLUMN.edge], method: 'none' as const }] : []),
    ],
    confidence: options.confidence,
    checks: modelsNeighbours(position)
      ? []
      : ['shapiro-wilk', 'moran', ...(treatments.length > 0 ? ['brown-forsythe' as const] : [])],
    moran: {
      row: COLUMN.row,
      column: COLUMN.column,
      within: [COLUMN.tray],
      neighbours: 'rook',
    },
  });
  // Added as they are: a check drops the weight of a level that is called as a prototype.
  return { ...request, contrasts };
}

type Compare = FitRequest['compare'][number];

/**
 * All pairs of levels (Tukey and Kramer), and the control against the others where one was chosen
 * (Dunnett). The whole picture adds Holm's adjustment, and each factor by level of each other.
 */
function comparisons(design: DesignModel, whole: boolean): Compare[] {
  const simple = design.tested.flatMap((role) => pairs(role, []));
  if (!whole) return simple;
  const holm = design.tested.map((role): Compare => ({
    means: [role.column],
    by: [],
    method: 'holm',
    against: null,
  }));
  const byLevel = design.tested.flatMap((role) =>
    design.tested.filter((other) => other !== role).flatMap((other) => pairs(role, [other.column])),
  );
  return [...simple, ...holm, ...byLevel];
}

function pairs(role: FactorRole, by: string[]): Compare[] {
  const all: Compare = { means: [role.column], by, method: 'tukey', against: null };
  const control = controlOf(role);
  if (control === null || !role.unitsPerLevel.has(control)) return [all];
  return [all, { means: [role.column], by, method: 'dunnett', against: control }];
}

function seen(role: FactorRole): ReadonlySet<string> {
  return new Set(role.unitsPerLevel.keys());
}

function sameSplit(trialTable: TrialTable, a: string | undefined, b: string): boolean {
  return (
    a !== undefined &&
    constantWithinUnits(trialTable, a, b) &&
    constantWithinUnits(trialTable, b, a)
  );
}

function subsets(names: readonly string[]): string[][] {
  const sets: string[][] = [[]];
  for (const name of names) sets.push(...sets.map((set) => [...set, name]));
  return sets.sort((a, b) => a.length - b.length);
}
