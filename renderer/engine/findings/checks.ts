import type { DataTable, FitRequest, FitResult } from '../../../shared-types/fit';
import type { PositionModel } from '../../../shared-types/trial/position';
import { boxCoxProfile, influence, type BoxCoxProfile } from '../stats/checks';
import { buildDesign } from '../stats/design';
import { fQuantile, tTwoSided } from '../stats/distributions';
import { fit } from '../stats/fit';
import { type DesignModel } from './model/designModel';
import { requestFor, type Asked } from './model/request';
import { isCounts, undoScale } from './model/scale';
import { type TrialTable } from './table/table';
import { COLUMN } from './table/columns';
import { reasonOf } from '../../words';

/** One pot beside what is expected of it. */
export interface PotCheck {
  potId: string;
  code: string;
  value: number;
  /** What the model expects, in the unit of the value. */
  fitted: number;
  /** Residual over the standard deviation of the residuals, as it is drawn on the rack. */
  standardised: number;
  /** Residual over its standard error without the pot, from least squares; null: not to be had. */
  studentised: number | null;
  /** Cook's distance, from least squares. */
  cook: number | null;
  /** Far from what is expected, allowing for the number of pots looked at. */
  outlying: boolean;
  /** Its absence would move the answers beyond the half-way point of their joint region. */
  influential: boolean;
}

export interface PotChecks {
  pots: PotCheck[];
  /** The likelihood's own opinion of the scale; null where some value is not positive. */
  power: BoxCoxProfile | null;
}

/** Chance that a pot is named where all is well. */
const OUTLIER_ALPHA = 0.01;

/**
 * Pot by pot checks of the model that answers. Leverage has a meaning in least squares only, so
 * deletion residuals and Cook's distances come from a fit of the same fixed part with the random
 * units as fixed blocks. A pot is outlying where its deletion residual has p < 0.01 after Bonferroni's
 * adjustment for all pots; influential where Cook's distance passes the median of F on p and n − p
 * df (Cook 1977). Counts are looked at by their square roots, which least squares suits.
 */
export function checksOf(
  data: TrialTable,
  design: DesignModel,
  model: PositionModel,
  primary: FitResult,
  asked: Asked,
): PotChecks {
  const request = fixedRequest(design, model, asked);
  const byRow = new Map<number, { studentised: number | null; cook: number | null }>();
  let df = 1;
  let rank = 1;
  try {
    const least = fit(request, data.table);
    df = least.residual?.df ?? 1;
    rank = least.n - df;
    const found = influence(
      least.rows.map((row) => row.residual),
      least.rows.map((row) => row.leverage ?? 0),
      rank,
      df,
    );
    least.rows.forEach((row, i) => {
      const one = found[i];
      if (one) byRow.set(row.index, one);
    });
  } catch (error) {
    reasonOf(error);
    // Too few pots for units as fixed blocks: deletion residuals are then not to be had.
  }
  const n = primary.rows.length;
  const half = fQuantile(0.5, rank, Math.max(1, df));
  const sd = residualSd(primary);
  const responses = data.table.columns[COLUMN.response] ?? [];
  const pots = primary.rows.flatMap((row): PotCheck[] => {
    const pot = data.pots[row.index];
    if (!pot) return [];
    const { studentised = null, cook = null } = byRow.get(row.index) ?? {};
    return [
      {
        potId: pot.id,
        code: pot.code,
        value: Number(responses[row.index]),
        fitted: undoScale(asked.scale ?? null, row.fitted),
        standardised: sd > 0 ? row.residual / sd : 0,
        studentised,
        cook,
        outlying:
          studentised !== null && df > 2 && n * tTwoSided(studentised, df - 1) < OUTLIER_ALPHA,
        influential: cook !== null && cook > half,
      },
    ];
  });
  return { pots, power: powerOf(request, data.table, asked) };
}

/** What least squares can keep of a position model. */
function plainModel(model: PositionModel): PositionModel {
  switch (model) {
    case 'edge':
    case 'light':
    case 'linear':
      return model;
    case 'none':
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return 'none';
    default:
      return model satisfies never;
  }
}

/** The model with all its units as fixed blocks. */
function fixedRequest(design: DesignModel, model: PositionModel, asked: Asked): FitRequest {
  const plain = plainModel(model);
  const scale = asked.scale ?? null;
  const request = requestFor(design, plain, { ...asked, scale: isCounts(scale) ? 'sqrt' : scale });
  return {
    ...request,
    fixedBlocks: [...request.fixedBlocks, ...request.randomUnits.flat()],
    randomUnits: [],
    tests: 'sequential',
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
}

function powerOf(request: FitRequest, table: DataTable, asked: Asked): BoxCoxProfile | null {
  if (isCounts(asked.scale ?? null)) return null;
  try {
    const { x, y } = buildDesign({ ...request, scale: 'identity' }, table);
    return boxCoxProfile(x, y, asked.confidence);
  } catch (error) {
    reasonOf(error);
    return null;
  }
}

function residualSd(result: FitResult): number {
  const squares = result.rows.reduce((sum, row) => sum + row.residual ** 2, 0);
  const df = result.residual?.df ?? Math.max(1, result.n - result.coefficients.length);
  return Math.sqrt(squares / df);
}
