import { allocationOf, layoutsForFindings } from './model/allocation';
import { multiplicityWords, questionOf, unplannedWords } from './asked';
import type { FindingsInput, ResponseIndex } from './question';
import { slowingOf } from './refused/saturation';
import { covariateCautions } from './covariateCautions';
import { lightUnitOf } from '../trial/lightWithin';
import { runsAnswering } from './table/rows';
import { trialTable } from './table/table';
import { scoreTestsOf } from './scores';
import { whyNoRun } from './refused/whyNoRun';
import { analyseTable } from './analyseTable';
import type { FindingsOutcome } from './findings';

export interface FindingsOptions {
  measurementId?: string | null;
  index?: ResponseIndex;
  /** Pots taken out by id, to see what the answer owes to them. */
  setAside?: readonly string[];
  /** Only the model that answers, not the others beside it. */
  primaryOnly?: boolean;
  /** Told before each model how many of them are done. */
  onProgress?: (done: number, total: number) => void;
}

/**
 * All findings for one measurement. The table is fitted under every position model; the one named
 * in the plan gives the answer, the others show whether it holds.
 */
export function findingsOf(input: FindingsInput, options: FindingsOptions = {}): FindingsOutcome {
  const { trial } = input;
  const question = questionOf(trial, options.measurementId, options.index);
  if (!question) return { ok: false, missing: 'No measurement is planned for the harvest.' };
  const runs = runsAnswering(input, question);
  for (const run of runs) {
    const missing = whyNoRun(run, question, runs.length > 1);
    if (missing) return missing;
  }
  // The one run that has values is looked at by itself, whichever is in hand.
  const [only] = runs;
  const taken = runs.length === 1 && only ? { ...only, all: [only] } : { ...input, all: runs };
  const data = trialTable(taken, question, new Set(options.setAside));
  const found = analyseTable(data, {
    question,
    factors: trial.factors,
    alpha: trial.alpha,
    plannedModel: trial.primaryPosition,
    analysisLocked: trial.analysisLocked ?? null,
    primaryOnly: options.primaryOnly ?? false,
    ...(options.onProgress ? { onProgress: options.onProgress } : {}),
    allocationOf: (design) =>
      allocationOf(taken, data, design, {
        runs: layoutsForFindings(trial.alpha),
        seed: taken.layout?.seed ?? '',
      }),
  });
  if (!found.ok) return found;
  const { tested } = found.findings.design;
  const scoreTests = options.primaryOnly ? [] : scoreTestsOf(taken, question, tested);
  const slowing = slowingOf(taken, question.measurement, found.findings.confidence);
  const lightTaken = {
    lightOverTrial: runs.some((run) => run.lightOverTrial),
    lightUnit: lightUnitOf(trial.factors),
    cautions: covariateCautions(
      trial,
      runs.some((run) => run.lightByTypedHeights),
    ),
  };
  const unplanned = unplannedWords(trial, question);
  const multiplicity = multiplicityWords(trial, question, taken.records);
  return {
    ok: true,
    findings: { ...found.findings, scoreTests, slowing, ...lightTaken, unplanned, multiplicity },
  };
}
