import type { FitRequest } from '../../../shared-types/fit';
import { unlessRefused } from '../../words';
import { fit } from '../stats/fit';
import { type DesignModel } from './model/designModel';
import { requestFor, type Asked } from './model/request';
import { COLUMN } from './table/columns';
import type { TrialTable } from './table/table';

/** Whether what a factor does differs between runs; p null where nothing is left to judge it by. */
export interface RunTest {
  factor: string;
  p: number | null;
}

/**
 * Each factor's interaction with the run, all tested at once and judged as the factor itself is: by the
 * mean square between the units within which it stays. Place is left out: it is asked of the runs, not
 * of the pots. Empty where the table does not allow it.
 */
export function runTests(
  { table }: Pick<TrialTable, 'table'>,
  design: DesignModel,
  asked: Asked,
): RunTest[] {
  const request = requestFor(design, 'none', asked);
  const treatments = design.tested.map((role) => role.column);
  const interactions = [
    ...(Array.isArray(request.interactions) ? request.interactions : []),
    ...treatments.map((name) => [name, COLUMN.run]),
  ];
  const withRuns: FitRequest = {
    ...request,
    treatments: [...request.treatments, COLUMN.run],
    interactions,
    fixedBlocks: request.fixedBlocks.filter((name) => name !== COLUMN.run),
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
  const result = unlessRefused(() => fit(withRuns, table));
  if (!result) return [];
  return treatments.map((name) => {
    const term = result.terms.find((row) => sameFactors(row.term, name));
    return { factor: name, p: term?.p ?? null };
  });
}

const sameFactors = (term: string, factor: string): boolean =>
  [...term.split(' × ')].sort().join('\n') === [factor, COLUMN.run].sort().join('\n');
