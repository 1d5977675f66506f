import {
  fitRequestSchema,
  placeTraits,
  type FitRequest,
  type GridModel,
} from '../../../../shared-types/fit';
import { positionTakes, type PositionModel } from '../../../../shared-types/trial/position';
import type { Allocation } from '../../stats/randomisation';
import { controlOf, plannedFor } from '../sizes/planned';
import type { DesignModel } from './designModel';
import type { FactorRole } from './roles';
import { fitScale, type ResponseScale } from './scale';
import { COLUMN } from '../table/columns';

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

function subsets(names: readonly string[]): string[][] {
  const sets: string[][] = [[]];
  for (const name of names) sets.push(...sets.map((set) => [...set, name]));
  return sets.sort((a, b) => a.length - b.length);
}
