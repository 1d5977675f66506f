import { unitsOf } from '../units';
import type { Departures } from './analysis';
import { sayOutcome } from './outcome';
import type { RehearsalRequest, RehearsedPart } from './request';
import { joinedCounts, ratesOf, sayFailures, type Rate } from './tally';

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
  factors: FactorRehearsal[];
  interactions: TermRehearsal[];
  /** The rehearsed analysis in words. */
  analysis: string;
  /** Where the rehearsal differs from the trial to come, and runs that could not be analysed. */
  notes: string[];
}

/** What the parts of a rehearsal found together: the same figures, however many parts there are. */
export function rehearsalReport(
  request: RehearsalRequest,
  parts: readonly RehearsedPart[],
): RehearsalReport {
  const { runs, trial } = request;
  const planned = joinedCounts(parts.map((part) => part.planned));
  const potsAsUnits = joinedCounts(parts.map((part) => part.potsAsUnits));
  const units = unitsOf({ ...request, bound: undefined });
  const termOf = (factorIds: string[], name: string, errorTerm: string): TermRehearsal => {
    const right = ratesOf(planned, factorIds, runs);
    const figures = {
      power: right?.power ?? null,
      falseAlarm: right?.falseAlarm ?? null,
      potsAsUnits: ratesOf(potsAsUnits, factorIds, runs),
    };
    const says = sayOutcome({ name, runs, alpha: trial.alpha, ...figures });
    return { factorIds, name, errorTerm, ...figures, says };
  };
  return {
    runs,
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
    analysis: parts[0]?.analysis ?? '',
    notes: [...sayDepartures(parts.map((part) => part.departures)), ...sayFailures(planned, runs)],
  };
}

function sayDepartures(parts: readonly Departures[]): string[] {
  const words = [...new Set(parts.flatMap((part) => part.words))];
  let [times, of, because] = [0, 0, ''];
  for (const { placeLeftOut } of parts) {
    times += placeLeftOut.times;
    of += placeLeftOut.of;
    if (placeLeftOut.times > 0) because = placeLeftOut.reason;
  }
  if (times === 0) return words;
  return [
    ...words,
    `In ${times} of ${of} harvests the planned correction for place could not be made and was left out, as the findings would do; the last because: ${because}.`,
  ];
}
