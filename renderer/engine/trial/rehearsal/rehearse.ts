import type { TrialInput } from '../blocks';
import { prepareDraw } from '../draw/draw';
import type { Site } from '../site';
import type { Departures, RehearsedAnalysis } from './analysis';
import { checkEffects } from './effects';
import { grower } from './grow';
import { checkModel } from './harvest';
import type { HarvestModel, TrueEffects } from './harvest';
import { rehearsalReport, type RehearsalReport } from './report';
import { Tally, type TallyCounts } from './tally';
import { Refusal } from '../../../words';

export interface RehearsalRequest extends TrialInput {
  model: HarvestModel;
  effects: TrueEffects;
  runs: number;
  seed: string;
  /** Told now and then how many of the runs are done. */
  onProgress?: ((done: number, total: number) => void) | undefined;
}

/** Runs of a rehearsal by number: after the first so many, up to and with the last. */
export interface RunsPart {
  after: number;
  upTo: number;
}

/** What some of the runs of a rehearsal found; plain data. */
export interface RehearsedPart {
  planned: TallyCounts;
  /** With every pot taken for an independent unit. */
  potsAsUnits: TallyCounts;
  analysis: string;
  departures: Departures;
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
  const part = rehearsePart(request, analysisOn, { after: 0, upTo: request.runs });
  return rehearsalReport(request, [part]);
}

/** Some of the runs alone. Each is grown from its own number, whoever grows those before it. */
export function rehearsePart(
  request: RehearsalRequest,
  analysisOn: (site: Site) => RehearsedAnalysis,
  { after, upTo }: RunsPart,
): RehearsedPart {
  const { model, effects, runs, trial } = request;
  if (!Number.isInteger(runs) || runs < 1) {
    throw new Refusal(`rehearsal: ${runs} runs were found; a whole number from 1 up is expected`);
  }
  checkModel(model);
  checkEffects(trial.factors, effects);
  // Each run is drawn for the rehearsal, whatever binds the draw of the one in hand.
  const prepared = prepareDraw({ ...request, bound: undefined });
  const analysis = analysisOn(prepared.site);
  const grow = grower(prepared, request);
  const planned = new Tally((one) => analysis.planned(one));
  const potsAsUnits = new Tally((one) => analysis.potsAsUnits(one));
  for (let number = after + 1; number <= upTo; number++) {
    const { levels, harvest } = grow(number);
    planned.add(levels, harvest);
    potsAsUnits.add(levels, harvest);
    const done = number - after;
    if (done % 10 === 0 || number === upTo) request.onProgress?.(done, upTo - after);
  }
  return {
    planned: planned.counts,
    potsAsUnits: potsAsUnits.counts,
    analysis: analysis.words,
    departures: analysis.departures(),
  };
}
