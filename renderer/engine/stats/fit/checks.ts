import type { DataTable, FitRequest, FitResult } from '../../../../shared-types/fit';
import type { Analysis } from './analysis';

export interface ChecksRun {
  readonly values: FitResult['checks'];
  readonly method: string[];
  readonly warnings: string[];
}

export function runChecks(_request: FitRequest, _table: DataTable, _analysis: Analysis): ChecksRun {
  return { values: {}, method: [], warnings: [] };
}
