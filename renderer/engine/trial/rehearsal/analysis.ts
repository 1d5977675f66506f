import type { Harvest } from './harvest';
import type { LevelNumbers } from './levels';

/** p of one tested term. */
export interface RehearsedTest {
  factorIds: readonly string[];
  /** null where the term could not be tested in this harvest. */
  p: number | null;
}

/** One made-up harvest as an analysis sees it, over the measured pots in their order. */
export type Rehearsed = Pick<Harvest, 'alive' | 'start'> & {
  levels: LevelNumbers;
  response: Float64Array;
};

/** The analysis to rehearse. It throws an Error where a harvest cannot be analysed. */
export interface RehearsedAnalysis {
  /** In words, for the report. */
  words: string;
  planned(harvest: Rehearsed): RehearsedTest[];
  /** The mistaken one: every pot an independent unit, whatever shares a tray or shelf. */
  potsAsUnits(harvest: Rehearsed): RehearsedTest[];
  /** Where it was not the analysis of the trial to come, one sentence each, asked after the runs. */
  departures(): string[];
}
