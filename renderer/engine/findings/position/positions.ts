import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type FitResult,
} from '../../../../shared-types/fit';
import {
  positionModels,
  positionTakes,
  type PositionModel,
} from '../../../../shared-types/trial/position';
import { moran } from '../../stats/checks';
import { fit } from '../../stats/fit';
import { fitModel, lightOfAnalysed, type ModelFit } from '../model/fitModel';
import type { DesignModel } from '../model/designModel';
import {
  gridModelOf,
  hasCovariance,
  modelsNeighbours,
  requestFor,
  type Asked,
} from '../model/request';
import { isCounts } from '../model/scale';
import type { TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';
import { reasonOf, Refusal } from '../../../words';

/** Likeness of neighbours in what a model leaves over; null where too few pots have neighbours. */
export interface Likeness {
  i: number;
  expected: number;
  p: number;
}

/** One position model tried on the same table. */
export interface PositionFit {
  model: PositionModel;
  /** What was asked of the table, so that it can be asked again. */
  request: FitRequest;
  unitRequests: ModelFit['unitRequests'];
  result: FitResult;
  /** Full likelihood at the estimates and its criterion, comparable over all models. */
  information: FitResult['information'];
  /** Moran's I of the residuals: pots side by side, and corner to corner too. */
  rook: Likeness | null;
  queen: Likeness | null;
}

export const MODELS: readonly PositionModel[] = positionModels;

/** Fits one position model. Throws with the reason where the data do not allow it. */
export function fitPosition(
  data: TrialTable,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
): PositionFit {
  const { request, unitRequests, result } = fitDesign(data, design, model, asked);
  const withInformation =
    result.information ?? countsInformation(result) ?? mixedInformation(data, design, model, asked);
  return {
    model,
    request,
    unitRequests,
    result,
    information: withInformation,
    // With the likeness of neighbours in the model there is none to be judged in the rest.
    rook: modelsNeighbours(model) || !data.placed ? null : likeness(data, result, 'rook'),
    queen: modelsNeighbours(model) || !data.placed ? null : likeness(data, result, 'queen'),
  };
}

function fitDesign(
  data: TrialTable,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
): ModelFit {
  refuseWhatIsNotTold(data, model, asked.edgeVaries);
  const grid = gridModelOf(model);
  if (isCounts(asked.scale ?? null) && grid !== null && !placeTraits[grid].isFixed) {
    throw new Refusal('counts are analysed without it; their square roots can be analysed with it');
  }
  return fitModel(data, design, model, asked);
}

/** Refuses a position model where the table does not tell of every pot what the model takes. */
function refuseWhatIsNotTold(data: TrialTable, model: PositionModel, edgeVaries: boolean): void {
  const takes = positionTakes[model];
  switch (takes) {
    case 'nothing':
      return;
    case 'light':
      refuseFlatLight(data);
      return;
    case 'edge':
      if (!edgeVaries) {
        throw new Refusal(
          'every measured pot has the same kind of place, so edge and inner pots cannot be compared',
        );
      }
      refuseUnplaced(data);
      return;
    case 'slopes':
    case 'places':
      refuseUnplaced(data);
      return;
    default:
      takes satisfies never;
  }
}

function refuseUnplaced({ placed }: TrialTable): void {
  if (!placed) {
    throw new Refusal('the table does not tell in which row and column each pot stands');
  }
}

/** So many pots at most have a covariance over all of them fitted beside the planned model. */
const MOST_BESIDE = 4000;

/** Refuses a model beside the planned one that would take long. */
export function refuseManyPots(
  model: PositionModel,
  { table }: { table: Pick<DataTable, 'rowCount'> },
): void {
  if (!hasCovariance(model) || table.rowCount <= MOST_BESIDE) return;
  throw new Refusal(`with over ${MOST_BESIDE} pots it takes long, and it does not give the result`);
}

/** Refuses the light at each pot as a covariate where it tells no pot from another. */
export function refuseFlatLight({ table }: Pick<TrialTable, 'table'>): void {
  const values = lightOfAnalysed(table);
  if (!values || Math.max(...values) - Math.min(...values) < 1e-9) {
    throw new Refusal('the light is the same for every measured pot, or not known');
  }
}

/** Counts are fitted by maximum likelihood, whose criterion they share. */
function countsInformation(result: FitResult): FitResult['information'] {
  if (result.criterion !== 'ML' || result.logLik === null || result.aic === null) return null;
  const parameters = Math.round(result.aic / 2 + result.logLik);
  return { logLik: result.logLik, parameters, aic: result.aic };
}

/**
 * Terms judged by units have no likelihood; the mixed model of the same units has. A fit with a
 * covariance of its own has told its own already.
 */
function mixedInformation(
  data: TrialTable,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
): FitResult['information'] {
  if (design.randomUnits.length === 0 || hasCovariance(model)) return null;
  const request = requestFor(design, model, asked);
  try {
    const bare = { ...request, means: [], compare: [], contrasts: [], checks: [] };
    return fit({ ...bare, denominator: 'asymptotic' }, data.table).information;
  } catch (error) {
    reasonOf(error);
    return null;
  }
}

function likeness(
  data: TrialTable,
  result: FitResult,
  neighbours: 'rook' | 'queen',
): Likeness | null {
  const { columns } = data.table;
  const numbers = (name: string) => result.rows.map((row) => Number(columns[name]?.[row.index]));
  try {
    const { i, expected, p } = moran({
      values: result.rows.map((row) => row.residual),
      rows: numbers(COLUMN.row),
      columns: numbers(COLUMN.column),
      groups: result.rows.map((row) => String(columns[COLUMN.tray]?.[row.index])),
      neighbours,
    });
    // What the model has absorbed is allowed for, where its own check was made.
    const allowed = result.checks['moran'];
    const [byModel, ofModel] =
      neighbours === 'rook'
        ? [allowed?.['modelExpected'], allowed?.['modelP']]
        : [allowed?.['queenModelExpected'], allowed?.['queenModelP']];
    return { i, expected: byModel ?? expected, p: ofModel ?? p };
  } catch (error) {
    reasonOf(error);
    return null;
  }
}
