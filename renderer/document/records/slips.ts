import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { measurementsInOrder, measuredPots } from '../queries/records';
import { measurementLabel } from '../queries/names';
import { inRange } from './match';

/** A value that looks like a slip of reading or typing. Asked about, never changed. */
export interface Slip {
  kind: 'out-of-range' | 'far-from-neighbours' | 'not-whole' | 'shrank' | 'double-entry-differs';
  potId: string;
  measurementId: string;
  value: number;
  /** What is odd about it, with the figures. */
  text: string;
}

/** Scales the median absolute deviation to the standard deviation of a normal distribution. */
const MAD_TO_SD = 1.4826;
/** How many such deviations away a value is asked about. */
const FAR = 5;
/** With fewer neighbours their spread says nothing. */
const FEWEST_NEIGHBOURS = 4;

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? 0) + upper) / 2;
}

function spread(values: readonly number[], centre: number): number {
  return MAD_TO_SD * median(values.map((value) => Math.abs(value - centre)));
}

const say = (value: number, { unit }: Measurement) => (unit ? `${value} ${unit}` : String(value));

/** All slips of all measurements, in the order of taking and of the rack. Dead pots are left out. */
export function findSlips(plan: Plan): Slip[] {
  const marks = plan.records.marks;
  const pots = measuredPots(plan).filter((pot) => marks[pot.id]?.mark !== 'dead');
  return measurementsInOrder(plan).flatMap((measurement) => [
    ...singleSlips(plan, measurement, pots),
    ...farFromNeighbours(plan, measurement, pots),
    ...shrunk(plan, measurement, pots),
  ]);
}

/** Values that are odd by themselves, or differ from their second entry. */
function singleSlips(plan: Plan, measurement: Measurement, pots: readonly Pot[]): Slip[] {
  const { id: measurementId, lowest, highest } = measurement;
  const values = plan.records.values[measurementId] ?? {};
  const second = plan.records.second[measurementId] ?? {};
  const label = measurementLabel(measurement);
  const slips: Slip[] = [];
  for (const pot of pots) {
    const value = values[pot.id];
    if (value === undefined) continue;
    const slip = { potId: pot.id, measurementId, value };
    const shown = `${pot.code}: ${label} ${say(value, measurement)}`;
    if (!inRange(measurement, value)) {
      const range =
        lowest === null
          ? `at most ${highest ?? ''}`
          : highest === null
            ? `at least ${lowest}`
            : `${lowest} to ${highest}`;
      slips.push({ ...slip, kind: 'out-of-range', text: `${shown} is outside ${range}.` });
    }
    if (measurement.kind === 'count' && !Number.isInteger(value)) {
      slips.push({ ...slip, kind: 'not-whole', text: `${shown} is a count but not whole.` });
    }
    const again = second[pot.id];
    if (again !== undefined && again !== value) {
      const text = `${shown}, but ${say(again, measurement)} in the second entry.`;
      slips.push({ ...slip, kind: 'double-entry-differs', text });
    }
  }
  return slips;
}

/**
 * Values more than five robust standard deviations (1.4826 × median absolute deviation) from the
 * median of the up to eight pots around them, and as far from the median of their tray: the first
 * alone would ask about pots between two treatments, the second alone about the bright end of a
 * tray. A spread below one step of the last decimal counts as one step. Scores are not looked at:
 * their few values have no spread to speak of.
 */
function farFromNeighbours(plan: Plan, measurement: Measurement, pots: readonly Pot[]): Slip[] {
  if (measurement.kind === 'score') return [];
  const values = plan.records.values[measurement.id] ?? {};
  const step = 10 ** -measurement.decimals;
  const slips: Slip[] = [];
  for (const trayId of new Set(pots.map((pot) => pot.trayId))) {
    const inTray = pots.filter((pot) => pot.trayId === trayId);
    const byHole = new Map<string, number>();
    for (const pot of inTray) {
      const value = values[pot.id];
      if (value !== undefined) byHole.set(`${pot.row}:${pot.column}`, value);
    }
    const all = [...byHole.values()];
    const trayMedian = median(all);
    const traySpread = Math.max(spread(all, trayMedian), step);
    for (const pot of inTray) {
      const value = values[pot.id];
      if (value === undefined || Math.abs(value - trayMedian) <= FAR * traySpread) continue;
      const around = neighbours(pot, byHole);
      if (around.length < FEWEST_NEIGHBOURS) continue;
      const centre = median(around);
      if (Math.abs(value - centre) <= FAR * Math.max(spread(around, centre), step)) continue;
      slips.push({
        kind: 'far-from-neighbours',
        potId: pot.id,
        measurementId: measurement.id,
        value,
        text:
          `${pot.code}: ${measurementLabel(measurement)} ${say(value, measurement)} is far from ` +
          `the ${say(centre, measurement)} in the middle of the ${around.length} pots around it.`,
      });
    }
  }
  return slips;
}

function neighbours({ row, column }: Pot, byHole: ReadonlyMap<string, number>): number[] {
  const around: number[] = [];
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      const value = r === row && c === column ? undefined : byHole.get(`${r}:${c}`);
      if (value !== undefined) around.push(value);
    }
  }
  return around;
}

/** Pots that weigh or measure less at harvest than at the start, by measurements of one name. */
function shrunk(plan: Plan, harvest: Measurement, pots: readonly Pot[]): Slip[] {
  if (harvest.moment !== 'harvest' || harvest.kind === 'score') return [];
  const same = (m: Measurement) =>
    m.moment === 'start' &&
    m.kind === harvest.kind &&
    m.unit === harvest.unit &&
    m.name.toLowerCase() === harvest.name.toLowerCase();
  const start = plan.trial?.measurements.find(same);
  if (!start) return [];
  return pots.flatMap((pot): Slip[] => {
    const value = plan.records.values[harvest.id]?.[pot.id];
    const before = plan.records.values[start.id]?.[pot.id];
    if (value === undefined || before === undefined || value >= before) return [];
    const text =
      `${pot.code}: ${harvest.name} fell from ${say(before, start)} at the start ` +
      `to ${say(value, harvest)} at harvest.`;
    return [{ kind: 'shrank', potId: pot.id, measurementId: harvest.id, value, text }];
  });
}
