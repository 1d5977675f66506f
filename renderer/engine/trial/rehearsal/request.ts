import type { TrialInput } from '../input';
import type { Departures } from './analysis';
import type { HarvestModel, TrueEffects } from './harvest';
import type { TallyCounts } from './tally';

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
