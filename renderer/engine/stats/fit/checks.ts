import type { DataTable, FitRequest, FitResult } from '../../../../shared-types/fit';
import { bartlett, brownForsythe, levene, moran, moranOfModel, shapiroWilk } from '../checks';
import type { MoranInput } from '../checks';
import { combineColumns } from '../design';
import { readNumbers } from '../table';
import { residualCovariance } from './covariance/absorbed';
import type { Analysis } from './analysis';
import { list, Refusal, reasonOf } from '../../../words';

type CheckName = FitRequest['checks'][number];

export interface ChecksRun {
  readonly values: FitResult['checks'];
  readonly method: readonly string[];
  readonly warnings: readonly string[];
}

const checkWords: Record<CheckName, string> = {
  'brown-forsythe': 'Brown–Forsythe',
  levene: 'Levene',
  bartlett: 'Bartlett',
  'shapiro-wilk': 'Shapiro–Wilk',
  moran: "Moran's I",
};

/**
 * The checks asked for, on the residuals of the analysis. Spread is compared between the
 * combinations of the treatments (of the fixed blocks where there are no treatments). A check
 * that the data are too few for becomes a warning, not an error: the fit itself stands.
 */
export function runChecks(request: FitRequest, table: DataTable, analysis: Analysis): ChecksRun {
  const warnings: string[] = [];
  const values: FitResult['checks'] = {};
  const names = [...new Set(request.checks)];
  for (const name of names) {
    const prepared = prepare(name, request, table, analysis);
    try {
      values[name] = prepared();
    } catch (error) {
      values[name] = { p: null };
      warnings.push(reasonOf(error));
    }
  }
  return {
    values,
    method:
      names.length > 0
        ? [`Checks on the residuals: ${list(names.map((name) => checkWords[name]))}.`]
        : [],
    warnings,
  };
}

/** Reads what a check needs, which may be an error of the request; then it can be run. */
function prepare(
  name: CheckName,
  request: FitRequest,
  table: DataTable,
  analysis: Analysis,
): () => Record<string, number | null> {
  const residuals = Array.from(analysis.residuals);
  const { rowIndex } = analysis.design;
  if (name === 'shapiro-wilk') return () => ({ ...shapiroWilk(residuals) });
  if (name === 'moran') {
    const place = request.moran ?? request.position;
    if (!place) {
      throw new Refusal(
        'moran: the request names no rows and columns; expected them under "moran"',
      );
    }
    const group = combineColumns(table, place.within, rowIndex);
    const input = {
      values: residuals,
      rows: Array.from(readNumbers(table, place.row, rowIndex, 'row')),
      columns: Array.from(readNumbers(table, place.column, rowIndex, 'column')),
      groups: Array.from(group.codes, (code) => group.names[code] ?? ''),
      neighbours: request.moran?.neighbours ?? ('rook' as const),
    };
    return () => {
      const plain = moran(input);
      const covariance = residualCovariance(request, table, analysis);
      if (covariance === null) return { ...plain };
      const model = moranOfModel(input, plain.i, covariance);
      const shown = {
        modelExpected: model.expected,
        modelVariance: model.variance,
        modelP: model.p,
      };
      const corners = input.neighbours === 'rook' ? cornersToo(input, covariance) : {};
      // Plain least squares keeps the randomisation moments that are usual for it.
      const usual = analysis.criterion === 'ML';
      return { ...plain, ...(usual ? {} : model), ...shown, ...corners };
    };
  }
  const columns = request.treatments.length > 0 ? request.treatments : request.fixedBlocks;
  if (columns.length === 0) {
    throw new Refusal(
      `${name}: the request has no treatments or fixed blocks; expected groups whose spread can ` +
        'be compared',
    );
  }
  const cells = combineColumns(table, columns, rowIndex);
  const groups = Array.from(cells.codes, (code) => cells.names[code] ?? '');
  const tests = { 'brown-forsythe': brownForsythe, levene, bartlett };
  return () => ({ ...tests[name](residuals, groups) });
}

/** The same judgement with the diagonal neighbours as well, to set beside that of the sides alone. */
function cornersToo(input: MoranInput, covariance: Float64Array): Record<string, number> {
  const queen: MoranInput = { ...input, neighbours: 'queen' };
  const { expected, p } = moranOfModel(queen, moran(queen).i, covariance);
  return { queenModelExpected: expected, queenModelP: p };
}
