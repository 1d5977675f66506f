import type { Mark } from '../../../shared-types/records';
import { measurementTraits, type Measurement } from '../../../shared-types/trial/measurement';
import {
  fieldNumber,
  readFigure,
  readTypedFigure,
  roundedTo,
  takesThreeDecimals,
  twoReadings,
} from '../../words';
import type { WrittenNumber } from '../../words';
import { inRange } from './reading/outcome';
import { typedMark } from './marks';
import { numberAndUnit, unitFactor } from './unitFactor';

/** What a text typed into a cell of the recording grid, or sent by a balance, stands for. */
export type Typed =
  | { kind: 'blank' }
  | { kind: 'mark'; mark: Mark['mark'] }
  /** `remark`: what was done to the number before it is kept; null: nothing. */
  | { kind: 'value'; value: number; remark: string | null }
  | { kind: 'unreadable'; expected: string };

/** Balances put these before a settled weight: settled, net, gross. */
const SETTLED = /^(?:(?:st?|nt?|net|gs?)[\s,:]+)*/i;

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
  const mark = typedMark(written);
  if (mark !== undefined) return { kind: 'mark', mark };

  const { digits, unit } = numberAndUnit(written.replace(SETTLED, ''));
  const figure = readFigure(digits);
  if (figure.kind === 'none') return { kind: 'unreadable', expected: 'A number is expected.' };
  const factor = unit === '' ? 1 : unitFactor(measurement, unit);
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
    const expected = `More than the tare, ${asWritten(dish)} ${measurement.unit}, is expected.`;
    return { kind: 'unreadable', expected };
  }
  const value = rounded(gross - dish, traits.whole ? 12 : measurement.decimals);
  const done: string[] = [];
  if (factor !== 1) done.push(`${written} is ${asWritten(value)} ${measurement.unit}`);
  else if (dish === 0 && value !== number) done.push(`${written} kept as ${asWritten(value)}`);
  if (dish > 0) done.push(`${asWritten(value)} ${measurement.unit} without the tare`);
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

/** A value as it was written, by the decimal sign in use: sums of decimals leave a 4.2 as 4.199999999999999. */
export function asWritten(value: number): string {
  return fieldNumber(roundedTo(value, 12));
}

/** Half away from zero on the written digits: 2.675 at two decimals is 2.68. */
function rounded(value: number, decimals: number): number {
  const scaled = roundedTo(Math.abs(value) * 10 ** decimals, 15);
  return (Math.sign(value) * Math.round(scaled)) / 10 ** decimals;
}
