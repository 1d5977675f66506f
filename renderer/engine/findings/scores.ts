import { layoutsForFindings } from './model/allocation';
import { modelPTerm } from './statements/terms';
import type { FactorRole } from './model/roles';
import type { FindingsInput, Question } from './question';
import type { RandomisationFound } from './randomisation/count';
import { randomisationInRuns } from './randomisation/inRuns';
import { randomisationTest } from './randomisation/test';
import { Refusal } from '../../words';
import type { FitResult } from '../../../shared-types/fit';
import { measurementTraits } from '../../../shared-types/trial/measurement';

/** What the shuffle says of one factor for a score; or why it could not be asked. */
export type ScoreTest =
  | { column: string; found: RandomisationFound }
  | { column: string; refused: string };

/**
 * Scores are steps of a scale, not normal values: each factor that was shuffled is judged by how often
 * the shuffle alone gives its mean scores as far apart, not by the F distribution; of several runs each
 * is shuffled by itself. Empty for all else.
 */
export function scoreTestsOf(
  input: FindingsInput,
  question: Question,
  tested: readonly FactorRole[],
): ScoreTest[] {
  const { layout, ppfdAtDraw, startByPot, trial, all = [] } = input;
  const { steps } = measurementTraits[question.measurement.kind];
  if (!steps || question.index !== 'final') return [];
  if (!layout || !ppfdAtDraw || !startByPot) return [];
  return tested
    .filter(({ factor }) => factor.kind === 'randomised')
    .map(({ column, factor }): ScoreTest => {
      const layouts = { runs: layoutsForFindings(trial.alpha), seed: layout.seed };
      const asked = {
        measurementId: question.measurement.id,
        index: question.index,
        factorIds: [factor.id],
        ...layouts,
      };
      try {
        const found =
          all.length > 1
            ? randomisationInRuns(input, question, factor.id, layouts)
            : randomisationTest({ ...input, ppfdAtDraw, startByPot }, asked);
        return { column, found };
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        return { column, refused: error.message };
      }
    });
}

/** The p that a factor is answered by: of the shuffle where it is a score, else of the model. */
export function answeringP(
  { scoreTests, primary }: { scoreTests: readonly ScoreTest[]; primary: { result: FitResult } },
  { column }: Pick<FactorRole, 'column'>,
): number | null {
  const test = scoreTests.find((one) => one.column === column);
  return test && 'found' in test ? test.found.p : modelPTerm(primary.result, column);
}
