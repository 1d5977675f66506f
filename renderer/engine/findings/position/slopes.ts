import { positionTakes } from '../../../../shared-types/trial/position';
import { tTwoSided } from '../../stats/distributions';
import type { Findings } from '../findings';
import { COLUMN } from '../table/columns';

/** Change of the response, on the scale of the model, for one unit more of a covariate. */
export interface CovariateSlope {
  name: string;
  /** Of the covariate; empty where it has none. */
  unit: string;
  /** Millimetres here, and to be told in the lengths that the plan shows. */
  isLength: boolean;
  estimate: number;
  se: number;
  df: number | null;
  lower: number;
  upper: number;
  p: number;
}

/** Slopes of the model that answers, all else equal. */
export function covariateSlopesOf({
  primary,
  question,
}: Pick<Findings, 'primary' | 'question'>): CovariateSlope[] {
  const units: Record<string, string> = {
    [COLUMN.start]: question.start?.unit ?? question.measurement.unit,
    [COLUMN.ppfd]: 'µmol m⁻² s⁻¹',
    [COLUMN.depth]: 'mm',
    [COLUMN.row]: 'row',
    [COLUMN.column]: 'column',
  };
  const names = [...primary.request.covariates];
  const { position } = primary.request;
  if (position && positionTakes[position.model] === 'slopes') names.push(COLUMN.row, COLUMN.column);
  return names.flatMap((name) => {
    const row = primary.result.coefficients.find((one) => one.name === name);
    if (!row || !(row.se > 0)) return [];
    const p = tTwoSided(row.estimate / row.se, row.df ?? Infinity);
    return [{ ...row, unit: units[name] ?? '', isLength: name === COLUMN.depth, p }];
  });
}
