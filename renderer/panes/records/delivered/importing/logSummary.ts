import { deliveredMeasures, type DeliveredMeasure } from '../../../../../shared-types/delivered';
import type { Plan } from '../../../../../shared-types/plan';
import {
  entriesOf,
  type LogFigure,
  type LogLeftOut,
  type LogPreview,
  type LogQuestion,
  type NamedUnit,
} from '../../../../document/delivered';
import { deliveredUnits } from '../../../../document/queries';
import { capital, list } from '../../../../words';

/** What would be logged of one measure of one unit. */
export interface LogLine {
  unit: string;
  measure: DeliveredMeasure;
  from: string;
  to: string;
  days: number;
  /** Most readings of a day. */
  readings: number;
  lowest: number;
  mean: number;
  highest: number;
  /** Figures that stand as others now. */
  replaced: number;
}

/** What taking a logger's table over would do, a line a unit and measure. */
export function logSummary(plan: Plan, { figures, questions, units, leftOut }: LogPreview) {
  const lines = deliveredUnits(plan).flatMap((unit) =>
    deliveredMeasures.flatMap((measure): LogLine[] => {
      const own = figures.filter((one) => one.unitId === unit.id && one.measure === measure);
      const days = own.map(({ day }) => day).sort();
      const [from, to] = [days[0], days.at(-1)];
      if (from === undefined || to === undefined) return [];
      return [
        {
          unit: unit.name,
          measure,
          from,
          to,
          days: own.length,
          replaced: replacedIn(own),
          readings: Math.max(...own.map(({ readings }) => readings)),
          lowest: Math.min(...own.map(({ lowest }) => lowest)),
          mean: own.reduce((sum, { value }) => sum + value, 0) / own.length,
          highest: Math.max(...own.map(({ highest }) => highest)),
        },
      ];
    }),
  );
  return {
    lines,
    replaced: replacedIn(figures),
    asked: askedOf(questions, units),
    leftOut: leftOutByReason(leftOut),
    entries: entriesOf(figures),
  };
}

const replacedIn = (figures: readonly LogFigure[]): number =>
  figures.filter(({ was, value }) => was !== null && was !== value).length;

/** What has to be said first; units that have to be named are one question. */
function askedOf(questions: readonly LogQuestion[], units: readonly NamedUnit[]): string[] {
  const others = questions.filter(({ kind }) => kind !== 'replaced' && kind !== 'unit');
  const words = others.map(
    ({ about, found, expected }) => `${capital(about)}: ${found}; ${expected}.`,
  );
  const open = units.flatMap(({ name, unitId }) => (unitId === undefined ? [name] : []));
  const named = open.filter((name) => name !== '');
  const known = 'Choose a reservoir, shelf, bay or tray under “Is”';
  return [
    ...words,
    ...(named.length > 0
      ? [`Names that the rack does not have: ${list(named.map(capital))}. ${known}.`]
      : []),
    ...(open.includes('') ? [`Some figures name no unit. ${known}.`] : []),
  ];
}

/** What stays out for one reason. */
export interface LeftOutForReason {
  why: string;
  /** `6 to 1013, 1020`. */
  lines: string;
  count: number;
  /** The first of it. */
  found: string;
}

function leftOutByReason(leftOut: readonly LogLeftOut[]): LeftOutForReason[] {
  const byReason = new Map<string, LogLeftOut[]>();
  for (const one of leftOut) {
    const same = byReason.get(one.why);
    if (same) same.push(one);
    else byReason.set(one.why, [one]);
  }
  return [...byReason].map(([why, all]) => ({
    why,
    count: all.length,
    found: all[0]?.text ?? '',
    lines: rangesOf(all.map(({ line }) => line)),
  }));
}

function rangesOf(lines: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const line of new Set(lines)) {
    const last = ranges.at(-1);
    if (last && line === last[1] + 1) last[1] = line;
    else ranges.push([line, line]);
  }
  const said = ranges
    .slice(0, MOST_RANGES)
    .map(([from, to]) => (from === to ? from : `${from} to ${to}`));
  return said.join(', ') + (ranges.length > MOST_RANGES ? ' …' : '');
}

const MOST_RANGES = 12;
