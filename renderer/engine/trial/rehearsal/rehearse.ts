import { prepareDraw } from '../draw/draw';
import type { Site } from '../site/site';
import type { RehearsedAnalysis } from './analysis';
import { checkEffects } from './effects';
import { grower } from './grow';
import { checkModel } from './harvest';
import { rehearsalReport, type RehearsalReport } from './report';
import type { RehearsalRequest, RehearsedPart, RunsPart } from './request';
import { Tally } from './tally';
import { Refusal } from '../../../words';

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
