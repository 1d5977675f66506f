import { alphaOf } from '../../stats/alpha';
import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import type { PositionModel } from '../../../../shared-types/trial/position';
import { buildDesign } from '../../stats/design';
import { isRandomised, randomisationFor } from '../../stats/fit/randomised';
import { sampleOf, type CountedLayouts, type RandomisationFound } from './count';
import { type DesignModel } from '../model/designModel';
import { requestFor, type Asked } from '../model/request';
import { capital, Refusal } from '../../../words';

export interface PlacedRandomisation
  extends CountedLayouts, Pick<RandomisationFound, 'moved' | 'approximate' | 'answers'> {}

/**
 * The test by which pots are judged where the plan allows for a smooth surface or the likeness of
 * neighbours, over as many layouts as the allocation names; null: under such a plan they aren't.
 */
export function placedRandomisation(
  design: DesignModel,
  table: DataTable,
  position: PositionModel,
  asked: Asked,
  factors: readonly string[],
  tell: (done: number, total: number) => void = () => undefined,
): PlacedRandomisation | null {
  const request: FitRequest = {
    ...requestFor(design, position, asked),
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
  const { allocation } = asked;
  const laid = buildDesign(request, table);
  if (!allocation || !isRandomised(request, laid)) return null;
  const term = laid.terms.findIndex(
    (one) => one.factors.length === factors.length && factors.every((f) => one.factors.includes(f)),
  );
  if (term < 0) {
    throw new Refusal(
      `${capital(factors.join(' × '))} is not in the model that these records allow.`,
    );
  }
  const test = randomisationFor(request, table, laid, allocation, { tell })?.test(term);
  if (!test) return null;
  const { layouts, asExtreme, p, exact, leastP, statistic, moved, others } = test;
  return {
    runs: layouts,
    asExtreme,
    p,
    exact,
    leastP,
    observed: statistic,
    moved: [...moved],
    sample: exact ? [] : sampleOf(others),
    approximate: test.takenOut ? 'taken-out' : test.approximate ? 'shuffled' : null,
    answers: leastP < alphaOf(request.confidence),
  };
}
