import type { Layout } from '../../../shared-types/layout';
import type { Rack } from '../../../shared-types/rack';
import type { Records } from '../../../shared-types/records';
import type { Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import type { BoundBy } from '../trial/bound';
import type { ZoneTrays } from '../trial/site/trialPot';
import type { ResponseScale } from './model/scale';
import { inSentence } from '../../words';

/** All that the findings rest on: of one run, and of the others with which it is taken together. */
export interface FindingsInput {
  /** `Run 2`; absent where the trial is grown once. */
  run?: string;
  /** All runs that are to be taken together, this one among them; absent: this one alone. */
  all?: readonly FindingsInput[];
  /** Another run's draw, by which this one's was bound. */
  bound?: BoundBy;
  rack: Rack;
  trial: Trial;
  /** What each reservoir floods. */
  zones: readonly ZoneTrays[];
  /** null only for a trial without factors, where nothing needed drawing. */
  layout: Layout | null;
  records: Records;
  /** Light that each pot received, PPFD by pot id, estimated or calibrated. */
  ppfdByPot: ReadonlyMap<string, number>;
  /** Whether that is the mean over the trial, its trays moved by a rota; else it is as drawn. */
  lightOverTrial?: boolean;
  /** Whether it follows canopy heights that were typed for trays as they will have grown. */
  lightByTypedHeights?: boolean;
  /** Light as it was at the draw and starting values, which a draw may rest on. */
  ppfdAtDraw?: ReadonlyMap<string, number>;
  startByPot?: ReadonlyMap<string, number>;
  /** Block of each measured pot, for a trial without a layout. */
  blockByPot: ReadonlyMap<string, string>;
  /** Depth of water at each pot's centre when its tray is fullest, mm, by pot id. */
  wetDepthByPot?: ReadonlyMap<string, number>;
}

export type ResponseIndex = 'final' | 'gain' | 'relative-growth-rate';

/** What is asked of the records: one measurement at harvest, as it is or as growth since the start. */
export interface Question {
  measurement: Measurement;
  /** The same thing measured at the start, where it was. */
  start: Measurement | null;
  index: ResponseIndex;
  /** Days from start to harvest; needed for a rate. */
  days: number | null;
}

/** The scale that the response enters the model on; growth is analysed as it is. */
export function scaleOf(question: Question): ResponseScale {
  return question.index === 'final' ? (question.measurement.scale ?? null) : null;
}

/** What a measurement is of, by a word that stays when the measurement is called otherwise. */
export const quantityOf = ({ quantity, name }: Measurement): string => quantity ?? name;

/** The start measurement that belongs to a later one: of one quantity, or else the only like it. */
export function startBefore(trial: Trial, measurement: Measurement): Measurement | null {
  const sameUnit = startsLike(trial, measurement);
  return (
    sameUnit.find((m) => quantityOf(m) === quantityOf(measurement)) ??
    (sameUnit.length === 1 ? (sameUnit[0] ?? null) : null)
  );
}

/** Everything measured at the start that a later measurement may have begun with. */
export function startsLike(trial: Trial, measurement: Measurement): Measurement[] {
  return trial.measurements.filter(
    (m) => m.timepoint === 'start' && m.kind === measurement.kind && m.unit === measurement.unit,
  );
}

/** What the response is called and in which unit, e.g. `Relative growth rate of shoot weight`. */
export function responseName(question: Question): { name: string; unit: string } {
  const { name, unit } = question.measurement;
  switch (question.index) {
    case 'final':
      return { name, unit };
    case 'gain':
      return { name: `Gain in ${inSentence(name)}`, unit };
    case 'relative-growth-rate':
      return { name: `Relative growth rate of ${inSentence(name)}`, unit: 'per day' };
  }
}

/** Decimals that the response was recorded with; null for a rate, which was not recorded. */
export function responseDecimals({ question }: { question: Question }): number | null {
  return question.index === 'relative-growth-rate' ? null : question.measurement.decimals;
}
