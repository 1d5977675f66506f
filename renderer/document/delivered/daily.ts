import { deliveredTraits, type DeliveredMeasure } from '../../../shared-types/delivered';
import type { LogLeftOut, Reading } from './logReadings';

/** What the log takes of a unit's day: one figure, of however many readings. */
export interface DayFigure {
  unitId: string;
  day: string;
  measure: DeliveredMeasure;
  value: number;
  readings: number;
  lowest: number;
  highest: number;
}

/** Light under this share of the day's highest reading is dusk, stray light or a lamp that is off. */
export const LIT_SHARE = 0.1;

/**
 * One figure a unit, day and measure. Of several readings: the mean; of PPFD the mean of those taken
 * while the lamps were lit; of lamp hours the highest, where they count up or down through the day.
 */
export function dailyFigures(readings: readonly Reading[]): {
  figures: DayFigure[];
  leftOut: LogLeftOut[];
} {
  const groups = new Map<string, Reading[]>();
  for (const one of readings) {
    const key = `${one.unitId} ${one.measure} ${one.day}`;
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  const figures: DayFigure[] = [];
  const leftOut: LogLeftOut[] = [];
  for (const group of groups.values()) {
    const [first] = group;
    if (!first) continue;
    const { unitId, day, measure } = first;
    const counted = countedOf(measure, group);
    if (counted === null) {
      leftOut.push(
        ...group.map(({ line, value }) => ({
          line,
          column: null,
          text: String(value),
          why: `several lamp hours on ${day} that do not count up`,
        })),
      );
      continue;
    }
    const values = counted.map(({ value }) => value);
    figures.push({
      unitId,
      day,
      measure,
      readings: group.length,
      value: asLogged(measure, meanOf(values)),
      lowest: values.reduce((low, value) => Math.min(low, value)),
      highest: highestOf(counted),
    });
  }
  return { figures, leftOut };
}

/** To the decimals in which the measure is logged. */
function asLogged(measure: DeliveredMeasure, value: number): number {
  const steps = 10 ** deliveredTraits[measure].decimals;
  return Math.round(value * steps) / steps;
}

/** The readings of a day that make its figure; null: none can. */
function countedOf(
  measure: DeliveredMeasure,
  group: readonly Reading[],
): readonly Reading[] | null {
  switch (measure) {
    case 'ec':
    case 'ph':
    case 'temperature':
      return group;
    case 'ppfd': {
      const highest = highestOf(group);
      return group.filter(({ value }) => value >= LIT_SHARE * highest);
    }
    case 'hours': {
      const steps = group.slice(1).map(({ value }, i) => value - (group[i]?.value ?? value));
      const oneWay = steps.every((step) => step >= 0) || steps.every((step) => step <= 0);
      const highest = highestOf(group);
      return oneWay ? group.filter(({ value }) => value === highest).slice(0, 1) : null;
    }
  }
}

/** A logger may read every second. */
const highestOf = (group: readonly Reading[]): number =>
  group.reduce((high, { value }) => Math.max(high, value), -Infinity);

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
