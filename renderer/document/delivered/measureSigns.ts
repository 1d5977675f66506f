import { deliveredMeasures, type DeliveredMeasure } from '../../../shared-types/delivered';

/** One unit in which a measure is written, and what becomes of its numbers. */
export interface MeasureSign {
  /** As a person reads it; empty: the measure has no unit. */
  sign: string;
  /** How it is found in a plain head, beside other words. */
  written: RegExp;
  /** How it is found in a head that names its measure, by fewer letters. */
  short?: RegExp;
  toOwn: (value: number) => number;
}

const times = (factor: number) => (value: number) => value * factor;

const PER = String.raw`\s*(?:/|·|\*|per|\s)?\s*`;

/**
 * The units of each measure, its own first. Parts per million are conductivity times 500 or 700,
 * as the maker of the meter chose; the head has to say which.
 */
export const measureSigns: Record<DeliveredMeasure, readonly MeasureSign[]> = {
  ec: [
    { sign: 'mS/cm', written: perCm('m'), short: /\bms\b/, toOwn: times(1) },
    { sign: 'µS/cm', written: perCm('u'), short: /\bus\b/, toOwn: times(0.001) },
    {
      sign: 'dS/m',
      written: new RegExp(String.raw`\bds${PER}m(?:\^?-1)?\b`),
      short: /\bds\b/,
      toOwn: times(1),
    },
    { sign: 'ppm (500)', written: ppm('500|0[.,]5'), toOwn: times(1 / 500) },
    { sign: 'ppm (700)', written: ppm('700|0[.,]7'), toOwn: times(1 / 700) },
  ],
  ph: [{ sign: '', written: /$^/, toOwn: times(1) }],
  temperature: [
    {
      sign: '°C',
      written: /(?:°|\bdeg(?:rees?)?\.?)\s*c\b|\bcelsius\b/,
      short: /\bc\b/,
      toOwn: times(1),
    },
    {
      sign: '°F',
      written: /(?:°|\bdeg(?:rees?)?\.?)\s*f\b|\bfahrenheit\b/,
      short: /\bf\b/,
      toOwn: (value) => ((value - 32) * 5) / 9,
    },
  ],
  hours: [
    { sign: 'h', written: /$^/, short: /\b(?:h|hrs?)\b/, toOwn: times(1) },
    { sign: 'min', written: /$^/, short: /\bmin(?:ute[ns]?)?\b/, toOwn: times(1 / 60) },
  ],
  ppfd: [
    {
      sign: 'µmol m⁻² s⁻¹',
      written: /\bu\s?mol(?:es)?(?:\s*(?:[/·*^.()-]|per|m\b|m(?=-?2)|s\b|s(?=-?1)|-?[12]\b))*/,
      toOwn: times(1),
    },
  ],
};

/** Units of something else, or that are not enough by themselves: the person is asked. */
export const FOREIGN_SIGN =
  /\b(?:k?lux|k?lx|ppm|w\s*\/?\s*m-?2|foot\s?candles?|fc|kelvin|mol\s*\/?\s*m-?2\s*\/?\s*d(?:-?1)?)\b/;

function perCm(prefix: string): RegExp {
  return new RegExp(String.raw`\b${prefix}s${PER}cm(?:\^?-1)?\b`);
}

function ppm(scale: string): RegExp {
  return new RegExp(String.raw`\bppm\W{0,3}(?:[x×*]\s*)?(?:${scale})\b\)?`);
}

/** A text as heads are compared: small letters, plain digits and signs. */
export const plainSigns = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replaceAll('−', '-')
    .replaceAll('μ', 'u')
    .replaceAll('_', ' ')
    .trim();

/** The measure that a unit by itself gives away, and where it stands in the text. */
export function signIn(
  plain: string,
  measure: DeliveredMeasure | null,
): { measure: DeliveredMeasure; sign: string; found: string } | null {
  const among = measure === null ? deliveredMeasures : [measure];
  for (const way of ['written', 'short'] as const) {
    for (const one of measure === null && way === 'short' ? [] : among) {
      for (const { sign, ...forms } of measureSigns[one]) {
        const [found] = forms[way]?.exec(plain) ?? [];
        if (found !== undefined && found !== '') return { measure: one, sign, found };
      }
    }
  }
  return null;
}

/** A number of a measure in its own unit. */
export function inOwnUnit(measure: DeliveredMeasure, sign: string, value: number): number {
  const known = measureSigns[measure].find((one) => one.sign === sign);
  if (!known) throw new TypeError(`${measure} is not written in ${sign}`);
  return known.toOwn(value);
}
