import type { TrialInput } from '../blocks';
import { prepareDraw } from '../draw/draw';
import type { Site } from '../site';
import { unitsOf } from '../units';
import type { RehearsedAnalysis } from './analysis';
import { checkEffects } from './effects';
import { grower } from './grow';
import { checkModel } from './harvest';
import type { HarvestModel, TrueEffects } from './harvest';
import { sayOutcome } from './outcome';
import { Tally } from './tally';
import type { Rate } from './tally';
import { Refusal } from '../../../words';

export interface RehearsalRequest extends TrialInput {
  model: HarvestModel;
  effects: TrueEffects;
  runs: number;
  seed: string;
  /** Told now and then how many of the runs are done. */
  onProgress?: ((done: number, total: number) => void) | undefined;
  /** Asked after every run; true ends the rehearsal with the runs so far. */
  isCancelled?: (() => boolean) | undefined;
}

export interface TermRehearsal {
  factorIds: string[];
  name: string;
  errorTerm: string;
  /** null where the planned analysis has no test for the term. */
  power: Rate | null;
  falseAlarm: Rate | null;
  /** The same with every pot taken for an independent unit: what a mistaken analysis would claim. */
  potsAsUnits: { power: Rate; falseAlarm: Rate } | null;
  /** What the figures mean, in words. */
  says: string;
}

export interface FactorRehearsal extends TermRehearsal {
  factorId: string;
}

export interface RehearsalReport {
  runs: number;
  cancelled: boolean;
  factors: FactorRehearsal[];
  interactions: TermRehearsal[];
  /** The rehearsed analysis in words. */
  analysis: string;
  /** Where the rehearsal differs from the trial to come, and runs that could not be analysed. */
  notes: string[];
}

/**
 * Rehearses the trial: draws its layout anew, lets plants grow under the model with and without the
 * true effects, runs the planned analysis, and counts how often each term's test at the trial's
 * alpha says that there is a difference.
 */
export function rehearse(
  request: RehearsalRequest,
  analysisOn: (site: Site) => RehearsedAnalysis,
): RehearsalReport {
  const { model, effects, runs, trial } = request;
  if (!Number.isInteger(runs) || runs < 1) {
    throw new Refusal(`rehearsal: ${runs} runs were found; a whole number from 1 up is expected`);
  }
  checkModel(model);
  checkEffects(trial.factors, effects);
  // Each run is drawn for the rehearsal, whatever binds the draw of the one in hand.
  const prepared = prepareDraw({ ...request, bound: undefined });
  const { site } = prepared;
  const analysis = analysisOn(site);
  const grow = grower(prepared, request);
  const planned = new Tally((one) => analysis.planned(one));
  const mistaken = new Tally((one) => analysis.potsAsUnits(one));
  let done = 0;
  let cancelled = false;
  for (; done < runs && !cancelled; done++) {
    const { levels, harvest } = grow(done + 1);
    planned.add(levels, harvest);
    mistaken.add(levels, harvest);
    if ((done + 1) % 10 === 0) request.onProgress?.(done + 1, runs);
    cancelled = request.isCancelled?.() === true;
  }
  request.onProgress?.(done, runs);

  const units = unitsOf({ ...request, bound: undefined });
  const termOf = (factorIds: string[], name: string, errorTerm: string): TermRehearsal => {
    const right = planned.ratesOf(factorIds, done);
    const wrong = mistaken.ratesOf(factorIds, done);
    const figures = {
      power: right?.power ?? null,
      falseAlarm: right?.falseAlarm ?? null,
      potsAsUnits: wrong,
    };
    const says = sayOutcome({ name, runs: done, alpha: trial.alpha, ...figures });
    return { factorIds, name, errorTerm, ...figures, says };
  };
  return {
    runs: done,
    cancelled,
    factors: units.factors.map(({ factorId, name, errorTerm }) => ({
      factorId,
      ...termOf([factorId], name, errorTerm),
    })),
    interactions: units.skeleton
      .filter((row) => row.factorIds.length > 1)
      .map((row) => {
        const error = units.skeleton.find(
          (other) => other.stratum === row.stratum && other.isError,
        );
        return termOf(row.factorIds, row.source, error?.source ?? '');
      }),
    analysis: analysis.words,
    notes: [...analysis.departures(), ...planned.failures(done)],
  };
}
