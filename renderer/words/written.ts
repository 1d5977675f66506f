import type { DecimalMark } from '../../shared-types/window/locale';
import { spokenLocale } from './locale';
import { fieldNumber, fixed, rounded } from './numbers';

/**
 * One written number, whoever wrote it. Point and comma both serve as decimal mark and between
 * thousands; `1,234` is either, and it is for the person to say which.
 */
export type WrittenNumber =
  /** `decimal`, `group`: the marks that were taken for the one and the other; null: none. */
  | { kind: 'one'; value: number; decimal: DecimalMark | null; group: string | null }
  /** Up to three digits, a mark, three digits: a decimal number or thousands. */
  | { kind: 'two'; mark: DecimalMark; asDecimal: number; asGrouped: number }
  | { kind: 'none' };

export type { DecimalMark };

const SIGNED = /^([+-]?)\s*(.*)$/s;
/** Between groups of three digits: a thin space (SI), one that does not break, or '. */
const SPACED = /^[0-9]{1,3}(?:[\u00A0\u2009\u202F'’][0-9]{3})+(?=$|[.,])/;
const EITHER = /^[1-9][0-9]{0,2}([.,])[0-9]{3}$/;
const PLAIN = /^(?:[0-9]+([.,])?[0-9]*|([.,])[0-9]+)(?:e[+-]?[0-9]{1,3})?$/i;
const GROUPED = /^[1-9][0-9]{0,2}(?:([.,])[0-9]{3})(?:\1[0-9]{3})*(?:([.,])[0-9]+)?$/;

/** The readings of a written number; units are no part of it. */
export function readFigure(text: string): WrittenNumber {
  const [, sign = '', written = ''] = SIGNED.exec(text.trim().replace('\u2212', '-')) ?? [];
  const spaced = SPACED.exec(written)?.[0];
  const body = spaced ? spaced.replace(/[^0-9]/g, '') + written.slice(spaced.length) : written;
  const value = (digits: string) => Number(`${sign}${digits}`);
  const either = spaced ? null : EITHER.exec(body);
  if (either) {
    const mark = either[1] === ',' ? ',' : '.';
    const [asDecimal, asGrouped] = [body.replace(mark, '.'), body.replace(mark, '')].map(value);
    return { kind: 'two', mark, asDecimal: asDecimal ?? NaN, asGrouped: asGrouped ?? NaN };
  }
  const plain = PLAIN.exec(body);
  if (plain) {
    const number = value(body.replace(',', '.'));
    if (!Number.isFinite(number)) return { kind: 'none' };
    const decimal = markOf(plain[1] ?? plain[2]);
    return { kind: 'one', value: number, decimal, group: spaced ? ' ' : null };
  }
  const grouped = GROUPED.exec(body);
  const [group, decimal] = [grouped?.[1], markOf(grouped?.[2])];
  if (!grouped || group === undefined || group === decimal) return { kind: 'none' };
  const digits = body.replaceAll(group, '').replace(',', '.');
  return { kind: 'one', value: value(digits), decimal, group };
}

const markOf = (mark: string | undefined): DecimalMark | null =>
  mark === ',' || mark === '.' ? mark : null;

export type TypedFigure =
  | { ok: true; value: number }
  /** `asked`: the two readings, each as it can be typed without doubt; null: it is no number. */
  | { ok: false; asked: [string, string] | null };

/**
 * A number typed by hand, with point or comma. The sign that the program itself writes before decimals
 * is one before three digits, too, where so many are nothing unusual, that is where `step`, the finest
 * step that is kept in the unit typed, is 0.01 or finer. Any other number that has two readings is
 * asked about. Fractions are read, too.
 */
export function readTypedFigure(text: string, step: number): TypedFigure {
  const fraction = readFraction(text);
  if (fraction !== null) return { ok: true, value: fraction };
  const figure = readFigure(text);
  if (figure.kind === 'none') return { ok: false, asked: null };
  if (figure.kind === 'one') return { ok: true, value: figure.value };
  const { mark, asDecimal, asGrouped } = figure;
  const fine = takesThreeDecimals(step);
  if (mark === spokenLocale().decimal && fine) return { ok: true, value: asDecimal };
  const decimals = Math.max(1, Math.round(-Math.log10(step)));
  const short = fine ? fixed(asDecimal, 3) : fieldNumber(rounded(asDecimal, decimals));
  return { ok: false, asked: [String(asGrouped), short.replace('−', '-')] };
}

/** Whether three decimals are nothing unusual where `step` is the finest step that is kept. */
export function takesThreeDecimals(step: number): boolean {
  return step <= 0.01 * (1 + 1e-9);
}

/** What is asked about a number that has two readings. */
export function twoReadings(text: string, [one, other]: readonly [string, string]): string {
  return `“${text.trim()}” can be ${one} or ${other}. Type ${one} or ${other}.`;
}

const PARTS: Readonly<Record<string, number>> = {
  '½': 1 / 2,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅕': 1 / 5,
  '⅖': 2 / 5,
  '⅗': 3 / 5,
  '⅘': 4 / 5,
  '⅙': 1 / 6,
  '⅚': 5 / 6,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
};
const ONE_SIGN = new RegExp(`^([+-]?)([0-9]*)\\s*([${Object.keys(PARTS).join('')}])$`);
const FRACTION = /^([+-]?)(?:([0-9]+)(?:\s+|\s*-\s*))?([0-9]+)\s*[/⁄]\s*([0-9]+)$/;

/** `2 1/2`, `2-1/2`, `5/8` or `2½` as a number; null: it is no fraction. */
export function readFraction(text: string): number | null {
  const written = text.trim().replace('\u2212', '-');
  const sign = written.startsWith('-') ? -1 : 1;
  const one = ONE_SIGN.exec(written);
  if (one) return sign * (Number(one[2]) + (PARTS[one[3] ?? ''] ?? NaN));
  const [, , whole = '0', over, under] = FRACTION.exec(written) ?? [];
  if (over === undefined || under === undefined || Number(under) === 0) return null;
  return sign * (Number(whole) + Number(over) / Number(under));
}
