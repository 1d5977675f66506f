import { markSchema } from '../../../shared-types/records';
import type { Mark } from '../../../shared-types/records';
import { measurementTraits, type Measurement } from '../../../shared-types/trial';
import {
  readFigure,
  readTypedFigure,
  roundedTo,
  takesThreeDecimals,
  twoReadings,
} from '../../words';
import type { WrittenNumber } from '../../words';
import { inRange } from './outcome';

/** What a text typed into a cell of the recording grid, or sent by a balance, stands for. */
export type Typed =
  | { kind: 'blank' }
  | { kind: 'mark'; mark: Mark['mark'] }
  /** `remark`: what was done to the number before it is kept; null: nothing. */
  | { kind: 'value'; value: number; remark: string | null }
  | { kind: 'unreadable'; expected: string };

/** Grams; ounce and pound as fixed by the international agreement of 1959. */
const GRAMS: Readonly<Record<string, number>> = {
  mg: 0.001,
  g: 1,
  kg: 1000,
  oz: 28.349523125,
  lb: 453.59237,
};

/** Millimetres; the inch as fixed by the same agreement. */
const MILLIMETRES: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

/** Short words for a plant that cannot be measured. */
const MARKS: Readonly<Record<string, Mark['mark']>> = { d: 'dead', m: 'missing', x: 'excluded' };

/** Balances put these before a settled weight: settled, net, gross. */
const SETTLED = /^(?:(?:st?|nt?|net|gs?)[\s,:]+)*/i;

const NUMBER_AND_UNIT =
  /^([+\-\u2212]?)\s*([0-9.,\u00A0\u2009\u202F'’]*[0-9.,](?:e[+-]?[0-9]+)?)\s*([\p{L}%µ]*)$/iu;

/**
 * Reads what was typed: a number with point or comma, with or without a unit (converted into the
 * measurement's own), or a mark in words (`dead`, `missing`, `excluded`, or d, m, x). Weights lose
 * the dish (`tare`, in the measurement's unit) and, like lengths and scores, are kept with the
 * stated count of decimals; counts are kept as they are. `1,234`, where it can be 1234 as well as
 * 1.234, is asked about, unless a balance sent it (`byMachine`), which puts no mark between thousands.
 */
export function readTyped(
  text: string,
  measurement: Measurement,
  tare = 0,
  byMachine = false,
): Typed {
  const written = text.trim();
  if (written === '') return { kind: 'blank' };
  const word = written.toLowerCase();
  const mark = MARKS[word] ?? markSchema.shape.mark.safeParse(word).data;
  if (mark !== undefined) return { kind: 'mark', mark };

  const parts = NUMBER_AND_UNIT.exec(written.replace(SETTLED, ''));
  const digits = `${parts?.[1] ?? ''}${parts?.[2]?.trim() ?? ''}`;
  const figure = readFigure(digits);
  if (figure.kind === 'none') return { kind: 'unreadable', expected: 'A number is expected.' };
  const unit = parts?.[3] ?? '';
  const factor = unit === '' ? 1 : factorTo(measurement, unit);
  if (factor === null) {
    const own = measurement.unit === '' ? 'no unit' : measurement.unit;
    return { kind: 'unreadable', expected: `“${unit}” cannot be taken as ${own}.` };
  }
  const number = oneReading(figure, digits, measurement, factor, byMachine);
  if (typeof number === 'string') return { kind: 'unreadable', expected: number };
  const gross = number * factor;
  const traits = measurementTraits[measurement.kind];
  const dish = traits.weighed ? tare : 0;
  if (dish > 0 && gross < dish) {
    const expected = `More than the dish, ${dish} ${measurement.unit}, is expected.`;
    return { kind: 'unreadable', expected };
  }
  const value = rounded(gross - dish, traits.whole ? 12 : measurement.decimals);
  const done: string[] = [];
  if (factor !== 1) done.push(`${written} is ${value} ${measurement.unit}`);
  else if (dish === 0 && value !== number) done.push(`${written} kept as ${value}`);
  if (dish > 0) done.push(`${value} ${measurement.unit} without the dish`);
  return { kind: 'value', value, remark: done.length > 0 ? done.join('; ') : null };
}

/** The number meant, or a sentence where it may be one of two. */
function oneReading(
  figure: Exclude<WrittenNumber, { kind: 'none' }>,
  digits: string,
  measurement: Measurement,
  factor: number,
  byMachine: boolean,
): number | string {
  if (figure.kind === 'one') return figure.value;
  const { asDecimal, asGrouped, mark } = figure;
  const step = 10 ** -measurement.decimals / factor;
  const fine = takesThreeDecimals(step);
  if (byMachine && (mark === '.' || fine)) return asDecimal;
  // The measurement keeps enough decimals, and its own range leaves no other reading.
  const fits = (value: number) => inRange(measurement, value * factor);
  if (fine && fits(asDecimal) && !fits(asGrouped)) return asDecimal;
  const read = readTypedFigure(digits, step);
  return read.ok ? read.value : twoReadings(digits, read.asked ?? [String(asGrouped), digits]);
}

/** What to multiply a number in `unit` by; null where the two have nothing in common. */
/** Millimetres in a unit of length; null where it is none that is known. */
export function millimetresIn(unit: string): number | null {
  return (Reflect.get(MILLIMETRES, unit.toLowerCase()) as number | undefined) ?? null;
}

function factorTo(measurement: Measurement, unit: string): number | null {
  const wanted = measurement.unit.toLowerCase();
  const given = unit.toLowerCase();
  if (wanted === given) return 1;
  const table = { weight: GRAMS, length: MILLIMETRES, count: {}, score: {} }[measurement.kind];
  const from = Reflect.get(table, given) as number | undefined;
  const to = Reflect.get(table, wanted) as number | undefined;
  return from === undefined || to === undefined ? null : from / to;
}

/** A value as it was written: sums of decimals leave a 4.2 as 4.199999999999999. */
export function asWritten(value: number): string {
  return String(roundedTo(value, 12));
}

/** Half away from zero on the written digits: 2.675 at two decimals is 2.68. */
function rounded(value: number, decimals: number): number {
  const scaled = roundedTo(Math.abs(value) * 10 ** decimals, 15);
  return (Math.sign(value) * Math.round(scaled)) / 10 ** decimals;
}
