import type { RotaPeriod } from '../../../shared-types/light';
import { Refusal } from '../../words';

/** Days of a trial on which trays stand in one way. */
export interface Spell {
  /** Of the rota; null: as drawn. */
  period: RotaPeriod | null;
  /** Its days in pieces of a week at most, each with the day of its middle. */
  pieces: { days: number; middle: number }[];
}

function checkPeriods(rota: readonly RotaPeriod[], days: number): void {
  if (!(Number.isInteger(days) && days >= 1)) {
    throw new Refusal(`trial of ${days} days: a whole number from 1 up is expected`);
  }
  const sorted = [...rota].sort((a, b) => a.fromDay - b.fromDay);
  sorted.forEach(({ fromDay, toDay }, i) => {
    const whole = Number.isInteger(fromDay) && Number.isInteger(toDay);
    if (!whole || fromDay < 1 || toDay < fromDay || toDay > days) {
      throw new Refusal(
        `rota, days ${fromDay} to ${toDay}: whole days within 1 to ${days}, the first one first, ` +
          `are expected`,
      );
    }
    const next = sorted[i + 1];
    if (next && next.fromDay <= toDay) {
      throw new Refusal(
        `rota, day ${next.fromDay} lies in two periods: periods one after the other are expected`,
      );
    }
  });
}

// Light changes slowly with height: within so many days the height of the middle stands for all.
const MOST_DAYS = 7;

/** The days of a spell in pieces of a week at most, each with its middle. */
function piecesOf(fromDay: number, toDay: number): { days: number; middle: number }[] {
  const days = toDay - fromDay + 1;
  const count = Math.ceil(days / MOST_DAYS);
  return Array.from({ length: count }, (_, i) => ({
    days: days / count,
    middle: fromDay - 0.5 + ((i + 0.5) * days) / count,
  }));
}

/** Runs of days that no period of a rota takes: trays stand as drawn. */
function daysAtHome(rota: readonly RotaPeriod[], days: number): [number, number][] {
  const free: [number, number][] = [];
  let from = 1;
  for (const { fromDay, toDay } of [...rota].sort((a, b) => a.fromDay - b.fromDay)) {
    if (fromDay > from) free.push([from, fromDay - 1]);
    from = toDay + 1;
  }
  if (from <= days) free.push([from, days]);
  return free;
}

/**
 * The days of a trial, counted from 1, by how the trays stand. Throws on periods that overlap or do
 * not lie within the trial.
 */
export function spellsOf(rota: readonly RotaPeriod[], days: number): Spell[] {
  checkPeriods(rota, days);
  return [
    ...rota.map((period) => ({ period, pieces: piecesOf(period.fromDay, period.toDay) })),
    ...daysAtHome(rota, days).map(([from, to]) => ({ period: null, pieces: piecesOf(from, to) })),
  ];
}
