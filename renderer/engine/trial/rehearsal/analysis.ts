import type { Harvest } from './harvest';
import type { LevelNumbers } from './levels';

/** p of one tested term. */
export interface RehearsedTest {
  factorIds: readonly string[];
  /** null where the term could not be tested in this harvest. */
  p: number | null;
}

/** Who stands where and lives to be harvested, over the measured pots in their order. */
export type Grown = Pick<Harvest, 'alive' | 'start'> & { levels: LevelNumbers };

/** Whether the test of one term finds a difference at the trial's alpha; null as p. */
export interface RehearsedFinding {
  factorIds: readonly string[];
  found: boolean | null;
}

/** Tests of one harvest after another off the same plants; throws where one cannot be analysed. */
export interface Tester {
  tests(response: Float64Array): RehearsedTest[];
  /** What they find, for less work than their p. */
  finds(response: Float64Array): RehearsedFinding[];
}

/** Where rehearsed analyses were not the analysis of the trial to come. */
export interface Departures {
  /** One sentence each. */
  words: readonly string[];
  /** Analyses without the planned correction for place: how many of how many, and why the last. */
  placeLeftOut: { times: number; of: number; reason: string };
}

/** The analysis to rehearse. It throws an Error where a harvest cannot be analysed. */
export interface RehearsedAnalysis {
  /** In words, for the report. */
  words: string;
  planned(grown: Grown): Tester;
  /** The mistaken one: every pot an independent unit, whatever shares a tray or shelf. */
  potsAsUnits(grown: Grown): Tester;
  /** Asked after the runs. */
  departures(): Departures;
}
