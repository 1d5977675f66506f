/**
 * One written number, whoever wrote it. Point and comma both serve as decimal mark and between
 * thousands; `1,234` is either, and it is for the person to say which.
 */
export type Figure =
  /** `decimal`, `group`: the marks that were taken for the one and the other; null: none. */
  | { kind: 'one'; value: number; decimal: DecimalMark | null; group: string | null }
  /** Up to three digits, a mark, three digits: a decimal number or thousands. */
  | { kind: 'two'; mark: DecimalMark; asDecimal: number; asGrouped: number }
  | { kind: 'none' };

/** How decimals are written. */
export type DecimalMark = '.' | ',';

const SIGNED = /^([+-]?)\s*(.*)$/s;
/** Between groups of three digits: a thin space (SI), one that does not break, or '. */
const SPACED = /^[0-9]{1,3}(?:[\u00A0\u2009\u202F'’][0-9]{3})+(?=$|[.,])/;
const EITHER = /^[1-9][0-9]{0,2}([.,])[0-9]{3}$/;
const PLAIN = /^(?:[0-9]+([.,])?[0-9]*|([.,])[0-9]+)(?:e[+-]?[0-9]{1,3})?$/i;
const GROUPED = /^[1-9][0-9]{0,2}(?:([.,])[0-9]{3})(?:\1[0-9]{3})*(?:([.,])[0-9]+)?$/;

/** The readings of a written number; units are no part of it. */
export function readFigure(text: string): Figure {
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
 * A number typed by hand. The program itself writes a point before decimals: a point before three
 * digits is one where so many are nothing unusual, that is where `step`, the finest step that is
 * kept in the unit typed, is 0.01 or finer. Any other number that has two readings is asked about.
 */
export function readTypedFigure(text: string, step: number): TypedFigure {
  const figure = readFigure(text);
  if (figure.kind === 'none') return { ok: false, asked: null };
  if (figure.kind === 'one') return { ok: true, value: figure.value };
  const { mark, asDecimal, asGrouped } = figure;
  const fine = takesThreeDecimals(step);
  if (mark === '.' && fine) return { ok: true, value: asDecimal };
  const decimals = Math.max(0, Math.round(-Math.log10(step)));
  const short = fine ? asDecimal.toFixed(3) : String(Number(asDecimal.toFixed(decimals)));
  return { ok: false, asked: [String(asGrouped), short] };
}

/** Whether three decimals are nothing unusual where `step` is the finest step that is kept. */
export function takesThreeDecimals(step: number): boolean {
  return step <= 0.01 * (1 + 1e-9);
}

/** What is asked about a number that has two readings. */
export function twoReadings(text: string, [one, other]: readonly [string, string]): string {
  return `“${text.trim()}” can be ${one} or ${other}. Type ${one} or ${other}.`;
}
