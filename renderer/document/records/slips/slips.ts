import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import type { Records } from '../../../../shared-types/records';
import { measurementTraits, type Measurement } from '../../../../shared-types/trial/measurement';
import { measurementsInOrder, potsToMeasure } from '../../queries/records';
import { measurementLabel } from '../../queries/names';
import { earlySlips, MOST_EARLY } from './earlySlips';
import { fingerSlips } from './fingerSlips';
import { factorSlips, outlyingOf, type Outlying } from './factorSlips';
import { valueBoundsOf, inRange } from '../reading/outcome';
import { MAD_TO_SD, medianOfSorted } from './robust';
import { sayWhenTaken, sayValue } from '../sayValue';
import { alive } from './slip';
import type { ColumnSource, Slip, SlipSource } from './slip';
import { fieldNumber } from '../../../words';

/** How many such deviations away a value is asked about. */
const FAR = 5;
/** With fewer neighbours their spread says nothing. */
const FEWEST_NEIGHBOURS = 4;

const median = (values: readonly number[]) => medianOfSorted(Float64Array.from(values).sort());

function spread(values: readonly number[], centre: number): number {
  return MAD_TO_SD * median(values.map((value) => Math.abs(value - centre)));
}

/** A name for the treatment of each pot of a layout: its levels of all factors. */
export function treatmentNames(layout: Plan['layout']): ReadonlyMap<string, string> | null {
  if (!layout) return null;
  return new Map(
    layout.assignments.map(({ potId, levels }) => [
      potId,
      Object.keys(levels)
        .sort()
        .map((factor) => levels[factor])
        .join(' '),
    ]),
  );
}

/** All slips of all measurements, in the order of taking and of the rack. Dead pots are left out. */
export function findSlips(plan: Plan): Slip[] {
  const { values, second, marks } = plan.records;
  const pots = potsToMeasure(plan);
  const treatmentOf = treatmentNames(plan.layout);
  const measurements = measurementsInOrder(plan);
  return measurements.flatMap((measurement) => {
    const before = beforeOf(measurements, values, measurement);
    return slipsOfMeasurement({
      measurement,
      pots,
      values: values[measurement.id] ?? {},
      second: second[measurement.id] ?? {},
      marks,
      before: before && { measurement: before, values: values[before.id] ?? {} },
      treatmentOf,
    });
  });
}

/** What a column shows by itself, so that it can be remembered while other columns are typed. */
export interface ColumnSlips {
  /** Those far from their neighbours. */
  far: readonly Slip[];
  outlying: Outlying;
}

/** What the values of one column show, held against each other alone. */
export function slipsInColumn(source: ColumnSource): ColumnSlips {
  return { far: farFromNeighbours(source), outlying: outlyingOf(source) };
}

/** The slips of one measurement; `column`: what it shows by itself, where that is known. */
export function slipsOfMeasurement(source: SlipSource, column = slipsInColumn(source)): Slip[] {
  const { far, outlying } = column;
  const pots = alive(source);
  const known = new Set(far.map(({ potId }) => potId));
  const factors = offByFactor(source, outlying).filter(({ potId }) => !known.has(potId));
  // A point that slipped, or a plant that shrank, is asked about already.
  for (const { potId } of factors) known.add(potId);
  const ratio = measurementTraits[source.measurement.kind].ratio;
  const fingers = ratio ? fingerSlips(source, outlying.kept) : [];
  return [
    ...singleSlips(source, pots),
    ...far.map((slip) => withReading(slip, fingers)),
    ...factors,
    ...fingers.filter(({ potId }) => !known.has(potId)),
    ...shrunk(source, pots),
  ];
}

/** What is far from its neighbours may be told by the reading that would fit. */
const withReading = (slip: Slip, fingers: readonly Slip[]): Slip => {
  const reading = fingers.find(({ potId }) => potId === slip.potId);
  return reading ? { ...slip, text: reading.text } : slip;
};

/** Pots off by a factor: by their own spread, or while there are too few for one by what is usual. */
function offByFactor(source: SlipSource, outlying: Outlying): Slip[] {
  if (!measurementTraits[source.measurement.kind].ratio) return [];
  const { kept } = outlying;
  return kept.length > MOST_EARLY ? factorSlips(source, outlying) : earlySlips(source, kept);
}

/**
 * The last measurement before this one that is of the same quantity and has values.
 * `measurements`: in the order of taking.
 */
export function beforeOf(
  measurements: readonly Measurement[],
  values: Records['values'],
  { id, kind, unit, ...rest }: Measurement,
): Measurement | null {
  if (!measurementTraits[kind].ratio) return null;
  const quantity = (m: Pick<Measurement, 'quantity' | 'name'>) =>
    (m.quantity ?? m.name).toLowerCase();
  const same = (m: Measurement) =>
    m.kind === kind &&
    m.unit === unit &&
    m.timepoint !== 'harvest' &&
    quantity(m) === quantity(rest) &&
    values[m.id] !== undefined;
  const at = measurements.findIndex((m) => m.id === id);
  return measurements.findLast((m, i) => i < at && same(m)) ?? null;
}

/** Values that are odd by themselves, or differ from their second entry. */
function singleSlips({ measurement, values, second }: SlipSource, pots: readonly Pot[]): Slip[] {
  const { id: measurementId } = measurement;
  const label = measurementLabel(measurement);
  const slips: Slip[] = [];
  for (const pot of pots) {
    const value = values[pot.id];
    if (value === undefined) continue;
    const slip = { potId: pot.id, measurementId, value };
    const shown = () => `${pot.code}: ${label} ${sayValue(value, measurement)}`;
    if (!inRange(measurement, value)) {
      const text = `${shown()} ${outOfRange(measurement, value)}.`;
      slips.push({ ...slip, kind: 'out-of-range', text });
    }
    if (measurementTraits[measurement.kind].whole && !Number.isInteger(value)) {
      slips.push({
        ...slip,
        kind: 'not-whole',
        text: `${shown()} is a ${measurement.kind} but not whole.`,
      });
    }
    const again = second[pot.id];
    if (again !== undefined && again !== value) {
      const text = `${shown()}, but ${sayValue(again, measurement)} in the second entry.`;
      slips.push({ ...slip, kind: 'double-entry-differs', text });
    }
  }
  return slips;
}

function outOfRange(measurement: Measurement, value: number): string {
  if (measurement.lowest === null && value < 0) return `is below 0; a ${measurement.kind} is not`;
  const { lowest, highest } = valueBoundsOf(measurement);
  const [from, to] = [lowest, highest].map((end) => fieldNumber(end ?? NaN));
  if (lowest === null) return `is outside at most ${to}`;
  return highest === null ? `is outside at least ${from}` : `is outside ${from} to ${to}`;
}

/**
 * Values more than five robust standard deviations (1.4826 × median absolute deviation) from the
 * median of the up to eight pots around them, and as far from the median of their tray: the first
 * alone would ask about pots between two treatments, the second alone about the bright end of a
 * tray. A spread below one step of the last decimal counts as one step. Scores are not looked at:
 * their few values have no spread to speak of.
 */
function farFromNeighbours(
  source: Pick<SlipSource, 'measurement' | 'pots' | 'values' | 'marks'>,
): Slip[] {
  const { measurement, values } = source;
  if (!measurementTraits[measurement.kind].ratio) return [];
  const step = 10 ** -measurement.decimals;
  const byTray = new Map<string, Pot[]>();
  for (const pot of alive(source)) {
    const tray = byTray.get(pot.trayId);
    if (tray) tray.push(pot);
    else byTray.set(pot.trayId, [pot]);
  }
  return [...byTray.values()].flatMap((inTray) => {
    const byHole = new Map<number, number>();
    for (const pot of inTray) byHole.set(holeNumber(pot.row, pot.column), values[pot.id] ?? 0);
    const all = [...byHole.values()];
    const trayMedian = median(all);
    const traySpread = Math.max(spread(all, trayMedian), step);
    return inTray.flatMap((pot): Slip[] => {
      const value = values[pot.id] ?? 0;
      if (Math.abs(value - trayMedian) <= FAR * traySpread) return [];
      const around = neighbours(pot, byHole);
      if (around.length < FEWEST_NEIGHBOURS) return [];
      const centre = median(around);
      if (Math.abs(value - centre) <= FAR * Math.max(spread(around, centre), step)) return [];
      const text =
        `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)} is far from ` +
        `the ${sayValue(centre, measurement)} in the middle of the ${around.length} pots around it.`;
      const slip = { potId: pot.id, measurementId: measurement.id, value, text };
      return [{ ...slip, kind: 'far-from-neighbours' }];
    });
  });
}

/** One number for a hole: grids have far fewer columns than this. */
const holeNumber = (row: number, column: number) => row * 100_000 + column;

function neighbours({ row, column }: Pot, byHole: ReadonlyMap<number, number>): number[] {
  const around: number[] = [];
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      const value = r === row && c === column ? undefined : byHole.get(holeNumber(r, c));
      if (value !== undefined) around.push(value);
    }
  }
  return around;
}

/** Pots that weigh or measure less than before. */
function shrunk({ measurement, values, before }: SlipSource, pots: readonly Pot[]): Slip[] {
  if (!before) return [];
  return pots.flatMap((pot): Slip[] => {
    const value = values[pot.id];
    const was = before.values[pot.id];
    if (value === undefined || was === undefined || value >= was) return [];
    const text =
      `${pot.code}: ${measurement.name} fell from ${sayValue(was, before.measurement)} ` +
      `${sayWhenTaken(before.measurement)} to ${sayValue(value, measurement)} ${sayWhenTaken(measurement)}.`;
    return [{ kind: 'shrank', potId: pot.id, measurementId: measurement.id, value, text }];
  });
}
