import type { Plan } from '../../../../shared-types/plan';
import type { Records } from '../../../../shared-types/records';
import { measurementTraits, type Measurement } from '../../../../shared-types/trial/measurement';
import { measurementsInOrder, potsToMeasure } from '../../queries/records';
import { measurementLabel } from '../../queries/names';
import { earlySlips, MOST_EARLY } from './earlySlips';
import { fingerSlips } from './fingerSlips';
import { factorSlips, outlyingOf, type Outlying } from './factorSlips';
import { figuresOf, grouped, knownOf, livingFigures, potsAround, trayGroups } from './column';
import { valueBoundsOf } from '../reading/outcome';
import { MAD_TO_SD, medianInPlace } from './robust';
import { sayWhenTaken, sayValue } from '../sayValue';
import type { ColumnSource, Slip, SlipSource } from './slip';
import { fieldNumber } from '../../../words';

/** How many such deviations away a value is asked about. */
const FAR = 5;
/** With fewer neighbours their spread says nothing. */
const FEWEST_NEIGHBOURS = 4;

const spread = (values: Float64Array, centre: number): number =>
  MAD_TO_SD * medianInPlace(values.map((value) => Math.abs(value - centre)));

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
  const known = new Set(far.map(({ potId }) => potId));
  const factors = offByFactor(source, outlying).filter(({ potId }) => !known.has(potId));
  // A point that slipped, or a plant that shrank, is asked about already.
  for (const { potId } of factors) known.add(potId);
  const ratio = measurementTraits[source.measurement.kind].ratio;
  const fingers = ratio ? fingerSlips(source, outlying.logs) : [];
  return [
    ...singleSlips(source),
    ...far.map((slip) => withReading(slip, fingers)),
    ...factors,
    ...fingers.filter(({ potId }) => !known.has(potId)),
    ...shrunk(source),
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
  let many = 0;
  for (const log of outlying.logs) if (!Number.isNaN(log)) many += 1;
  if (many > MOST_EARLY) return factorSlips(source, outlying);
  return earlySlips(
    source,
    source.pots.filter((_pot, i) => !Number.isNaN(outlying.logs[i] ?? NaN)),
  );
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
function singleSlips(source: SlipSource): Slip[] {
  const { measurement, pots, second } = source;
  const { id: measurementId } = measurement;
  const { lowest, highest } = valueBoundsOf(measurement);
  const { whole } = measurementTraits[measurement.kind];
  const again = figuresOf(pots, second);
  const label = measurementLabel(measurement);
  const slips: Slip[] = [];
  livingFigures(source).forEach((value, i) => {
    const out = (lowest !== null && value < lowest) || (highest !== null && value > highest);
    const broken = whole && value % 1 !== 0;
    const other = again[i] ?? NaN;
    const differs = other !== value && !Number.isNaN(other);
    if (Number.isNaN(value) || !(out || broken || differs)) return;
    const pot = pots[i];
    if (!pot) return;
    const slip = { potId: pot.id, measurementId, value };
    const shown = `${pot.code}: ${label} ${sayValue(value, measurement)}`;
    if (out) {
      const text = `${shown} ${outOfRange(measurement, value)}.`;
      slips.push({ ...slip, kind: 'out-of-range', text });
    }
    if (broken) {
      const text = `${shown} is a ${measurement.kind} but not whole.`;
      slips.push({ ...slip, kind: 'not-whole', text });
    }
    if (differs) {
      const text = `${shown}, but ${sayValue(other, measurement)} in the second entry.`;
      slips.push({ ...slip, kind: 'double-entry-differs', text });
    }
  });
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
function farFromNeighbours(source: ColumnSource): Slip[] {
  const { measurement, pots } = source;
  if (!measurementTraits[measurement.kind].ratio) return [];
  const step = 10 ** -measurement.decimals;
  const figures = livingFigures(source);
  const trays = trayGroups(pots);
  const { one } = grouped(figures, trays);
  const middles = trays.names.map((_name, g) => {
    const own = one(g);
    const centre = medianInPlace(own);
    return { centre, spread: Math.max(spread(own, centre), step) };
  });
  const slips: Slip[] = [];
  figures.forEach((value, i) => {
    const tray = middles[trays.of[i] ?? 0];
    if (!tray || !(Math.abs(value - tray.centre) > FAR * tray.spread)) return;
    const pot = pots[i];
    if (!pot) return;
    const around = Float64Array.from(potsAround(pots, pot), (k) => figures[k] ?? NaN);
    const known = knownOf(around);
    if (known.length < FEWEST_NEIGHBOURS) return;
    const centre = medianInPlace(known);
    if (Math.abs(value - centre) <= FAR * Math.max(spread(known, centre), step)) return;
    const text =
      `${pot.code}: ${measurementLabel(measurement)} ${sayValue(value, measurement)} is far from ` +
      `the ${sayValue(centre, measurement)} in the middle of the ${known.length} pots around it.`;
    slips.push({
      kind: 'far-from-neighbours',
      potId: pot.id,
      measurementId: measurement.id,
      value,
      text,
    });
  });
  return slips;
}

/** Pots that weigh or measure less than before. */
function shrunk(source: SlipSource): Slip[] {
  const { measurement, pots, before } = source;
  if (!before) return [];
  const earlier = figuresOf(pots, before.values);
  const slips: Slip[] = [];
  livingFigures(source).forEach((value, i) => {
    const was = earlier[i] ?? NaN;
    const pot = value < was ? pots[i] : undefined;
    if (!pot) return;
    const text =
      `${pot.code}: ${measurement.name} fell from ${sayValue(was, before.measurement)} ` +
      `${sayWhenTaken(before.measurement)} to ${sayValue(value, measurement)} ${sayWhenTaken(measurement)}.`;
    slips.push({ kind: 'shrank', potId: pot.id, measurementId: measurement.id, value, text });
  });
  return slips;
}
