import type { Trial } from '../../../../shared-types/trial';
import { fQuantileUpper } from '../../stats/distributions';
import type { TrialInput } from '../blocks';
import { prepareDraw } from '../draw';
import type { Drawn } from '../draw';
import { givenLevels } from '../site';
import type { Site } from '../site';
import { stream } from '../stream';
import { unitsOfSite } from '../units';
import { positionColumns } from './columns';
import type { LevelNumbers } from './columns';
import { checkModel, harvestOf, trueEffects } from './harvest';
import type { HarvestModel } from './harvest';
import { plannedStrata, potsAsUnits, testStrata } from './strata-test';
import type { SourceTest } from './strata-test';

export interface RehearsalRequest extends TrialInput {
  model: HarvestModel;
  /** True shift of the response by factor id and level id; what is left out is 0. */
  effects: Readonly<Record<string, Readonly<Record<string, number>>>>;
  runs: number;
  seed: string;
  /** Told now and then how many of the runs are done. */
  onProgress?: (done: number, total: number) => void;
  /** Asked after every run; true ends the rehearsal with the runs so far. */
  isCancelled?: () => boolean;
}

/** A share of the runs, with its Monte-Carlo standard error √(p(1 − p)/runs). */
export interface Rate {
  share: number;
  se: number;
}

export interface FactorRehearsal {
  factorId: string;
  name: string;
  errorTerm: string;
  /** null where the planned analysis has no test for the factor. */
  power: Rate | null;
  falseAlarm: Rate | null;
  /** The same with every pot taken for an independent unit: what a mistaken analysis would claim. */
  potsAsUnits: { power: Rate; falseAlarm: Rate } | null;
}

export interface RehearsalReport {
  runs: number;
  cancelled: boolean;
  factors: FactorRehearsal[];
  /** The rehearsed analysis in words. */
  analysis: string;
}

interface Tally {
  tested: number;
  power: number;
  alarm: number;
}

/**
 * Rehearses the trial: draws its layout anew, lets plants grow under the model with and without the
 * true effects, runs the planned analysis, and counts how often each factor's F test at the trial's
 * alpha says that there is a difference.
 */
export function rehearse(request: RehearsalRequest): RehearsalReport {
  const { model, effects, runs, seed, trial } = request;
  if (!Number.isInteger(runs) || runs < 1) {
    throw new Error(`rehearsal: ${runs} runs were found; a whole number from 1 up is expected`);
  }
  checkModel(model);
  checkEffects(request);
  const { site, draw } = prepareDraw(request);
  const position = positionColumns(site, trial.primaryPosition);
  const critical = criticalValues(trial.alpha);
  const planned = new Map<string, Tally>();
  const mistaken = new Map<string, Tally>();
  let done = 0;
  let cancelled = false;
  for (; done < runs && !cancelled; done++) {
    const levels = levelNumbers(site, draw(`${seed}, layout ${done + 1}`));
    const shift = trueEffects(site, levels, effects);
    const harvest = harvestOf(site, model, shift, stream(seed, `harvest ${done + 1}`));
    const responses = [harvest.untreated, harvest.treated];
    const { columns } = position;
    const own = plannedStrata(site, levels, columns);
    count(planned, testStrata(own, responses, harvest.alive), critical);
    const naive = potsAsUnits(site, levels, columns);
    count(mistaken, testStrata(naive, responses, harvest.alive), critical);
    if ((done + 1) % 20 === 0) request.onProgress?.(done + 1, runs);
    cancelled = request.isCancelled?.() === true;
  }
  request.onProgress?.(done, runs);
  const { factors } = unitsOfSite(site);
  return {
    runs: done,
    cancelled,
    factors: factors.map((factor) => {
      const right = ratesOf(planned.get(factor.factorId), done);
      return {
        factorId: factor.factorId,
        name: factor.name,
        errorTerm: factor.errorTerm,
        power: right?.power ?? null,
        falseAlarm: right?.falseAlarm ?? null,
        potsAsUnits: ratesOf(mistaken.get(factor.factorId), done),
      };
    }),
    analysis: analysisInWords(trial, position.words),
  };
}

function analysisInWords(trial: Trial, position: string): string {
  const start = trial.startCovariate
    ? ' The starting value, planned as covariate, is left out.'
    : '';
  return `F test of unit means, each factor in its own stratum at ${trial.alpha}, ${position}.${start}`;
}

/** Level number of every factor at every measured pot in one draw. */
export function levelNumbers(site: Site, drawn: Pick<Drawn, 'treatmentOf'>): LevelNumbers {
  const numbers = new Map<string, Int32Array>();
  for (const factor of site.trial.factors) {
    if (factor.kind !== 'given') continue;
    const ids = factor.levels.map((level) => level.id);
    numbers.set(
      factor.id,
      Int32Array.from(givenLevels(site, factor), (id) => ids.indexOf(id ?? '')),
    );
  }
  site.tiers.forEach((tier, k) => {
    const treatmentOf = drawn.treatmentOf[k] ?? new Int32Array(0);
    for (const factor of tier.factors) {
      const ids = factor.levels.map((level) => level.id);
      const levelOf = tier.combinations.map((c) => ids.indexOf(c.levels[factor.id] ?? ''));
      numbers.set(
        factor.id,
        tier.units.classOf.map((unit) => levelOf[treatmentOf[unit] ?? 0] ?? 0),
      );
    }
  });
  return numbers;
}

function checkEffects(request: RehearsalRequest): void {
  for (const [factorId, byLevel] of Object.entries(request.effects)) {
    const factor = request.trial.factors.find((f) => f.id === factorId);
    if (!factor) {
      const known = request.trial.factors.map((f) => f.id).join(', ');
      throw new Error(
        `rehearsal effect: factor ${factorId} was found; one of ${known} is expected`,
      );
    }
    for (const [levelId, shift] of Object.entries(byLevel)) {
      if (!factor.levels.some((level) => level.id === levelId)) {
        const known = factor.levels.map((level) => level.id).join(', ');
        throw new Error(
          `rehearsal effect of ${factor.name}: level ${levelId} was found; one of ${known} is expected`,
        );
      }
      if (!Number.isFinite(shift)) {
        throw new Error(
          `rehearsal effect of ${factor.name}, level ${levelId}: ${shift} was found; a number is expected`,
        );
      }
    }
  }
}

function criticalValues(alpha: number): (df: number, dfError: number) => number {
  const known = new Map<string, number>();
  return (df, dfError) => {
    const key = `${df}:${dfError}`;
    let value = known.get(key);
    if (value === undefined) {
      value = fQuantileUpper(alpha, df, dfError);
      known.set(key, value);
    }
    return value;
  };
}

/** Adds the main effects' verdicts of one run; responses are in the order untreated, treated. */
function count(
  tallies: Map<string, Tally>,
  tests: readonly SourceTest[],
  critical: (df: number, dfError: number) => number,
): void {
  for (const test of tests) {
    const id = test.factorIds[0];
    const [untreated, treated] = test.f;
    if (id === undefined || test.factorIds.length > 1) continue;
    if (typeof untreated !== 'number' || typeof treated !== 'number') continue;
    const bound = critical(test.df, test.dfError);
    const tally = tallies.get(id) ?? { tested: 0, power: 0, alarm: 0 };
    tally.tested++;
    if (treated > bound) tally.power++;
    if (untreated > bound) tally.alarm++;
    tallies.set(id, tally);
  }
}

function ratesOf(tally: Tally | undefined, runs: number): { power: Rate; falseAlarm: Rate } | null {
  if (!tally || tally.tested === 0) return null;
  // A run in which deaths left no test found nothing.
  const rate = (hits: number): Rate => {
    const share = hits / runs;
    return { share, se: Math.sqrt((share * (1 - share)) / runs) };
  };
  return { power: rate(tally.power), falseAlarm: rate(tally.alarm) };
}
