import type { Layout } from '../../../shared-types/layout';
import type { Rack } from '../../../shared-types/rack';
import type { Records } from '../../../shared-types/records';
import type { Measurement, Trial } from '../../../shared-types/trial';
import type { ResponseScale } from './scale';

/** All that the findings rest on. */
export interface FindingsInput {
  rack: Rack;
  trial: Trial;
  /** null only for a trial without factors, where nothing needed drawing. */
  layout: Layout | null;
  records: Records;
  /** Light that each pot received, PPFD by pot id, estimated or calibrated. */
  ppfdByPot: ReadonlyMap<string, number>;
  /** Whether that is the mean over the trial, its trays moved by a rota; else it is as drawn. */
  lightOverTrial?: boolean;
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

/** The start measurement that belongs to a later one: same name and unit, or else same kind. */
export function startOf(trial: Trial, measurement: Measurement): Measurement | null {
  const starts = trial.measurements.filter((m) => m.moment === 'start');
  const sameUnit = starts.filter((m) => m.kind === measurement.kind && m.unit === measurement.unit);
  return (
    sameUnit.find((m) => m.name === measurement.name) ??
    (sameUnit.length === 1 ? (sameUnit[0] ?? null) : null)
  );
}

/** Whole days between two ISO dates. */
export function daysBetween(from: string, to: string): number {
  return dayNumber(to) - dayNumber(from);
}

// Days since 0000-03-01 in the proleptic Gregorian calendar: starting the year in March puts the
// leap day last, so that no table of month lengths is needed.
function dayNumber(date: string): number {
  const [y = 0, m = 1, d = 1] = date.split('-').map(Number);
  const year = m <= 2 ? y - 1 : y;
  const month = m <= 2 ? m + 9 : m - 3;
  const leaps = Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400);
  return year * 365 + leaps + Math.floor((153 * month + 2) / 5) + d;
}

/**
 * The question a trial asks of one measurement. Without a measurement named, the plan's primary
 * one, or the first taken at harvest. null where nothing is measured at harvest.
 */
export function questionOf(
  trial: Trial,
  measurementId?: string | null,
  index?: ResponseIndex,
): Question | null {
  const wanted = measurementId ?? trial.primaryMeasurementId;
  const measurement =
    trial.measurements.find((m) => m.id === wanted) ??
    trial.measurements.find((m) => m.moment === 'harvest');
  if (!measurement) return null;
  const start = measurement.moment === 'start' ? null : startOf(trial, measurement);
  const from = start?.date ?? trial.startDate;
  const to = measurement.date ?? trial.harvestDate;
  const days = from && to ? daysBetween(from, to) : null;
  const asked = index ?? trial.primaryIndex;
  const possible =
    asked === 'final' ||
    (asked === 'gain' && start !== null) ||
    (asked === 'relative-growth-rate' && start !== null && days !== null && days > 0);
  return { measurement, start, index: possible ? asked : 'final', days };
}

/** What the response is called and in which unit, e.g. `Relative growth rate of shoot weight`. */
export function responseName(question: Question): { name: string; unit: string } {
  const { name, unit } = question.measurement;
  switch (question.index) {
    case 'final':
      return { name, unit };
    case 'gain':
      return { name: `Gain in ${lower(name)}`, unit };
    case 'relative-growth-rate':
      return { name: `Relative growth rate of ${lower(name)}`, unit: 'per day' };
  }
}

/** Decimals that the response was recorded with; null for a rate, which was not recorded. */
export function responseDecimals({ question }: { question: Question }): number | null {
  return question.index === 'relative-growth-rate' ? null : question.measurement.decimals;
}

function lower(name: string): string {
  return name.charAt(0).toLowerCase() + name.slice(1);
}
