import type { Measurement } from '../../../shared-types/trial/measurement';

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

const KINDS: Record<Measurement['kind'], Readonly<Record<string, number>>> = {
  weight: GRAMS,
  length: MILLIMETRES,
  count: {},
  score: {},
  index: {},
};

/** What units are called besides their signs. */
const CALLED: Readonly<Record<string, string>> = {
  gram: 'g',
  grams: 'g',
  gramm: 'g',
  gr: 'g',
  kilogram: 'kg',
  kilograms: 'kg',
  kilogramm: 'kg',
  ounce: 'oz',
  ounces: 'oz',
  lbs: 'lb',
  inch: 'in',
  inches: 'in',
  '"': 'in',
};

const signOf = (unit: string): string => {
  const plain = unit.trim().toLowerCase().replace(/\.$/, '');
  return CALLED[plain] ?? plain;
};

/** Whether a word is a unit of weight or length. */
export const isUnit = (word: string): boolean =>
  Object.values(KINDS).some((units) => Object.hasOwn(units, signOf(word)));

/** Millimetres in a unit of length; null where it is none that is known. */
export const millimetresIn = (unit: string): number | null =>
  new Map(Object.entries(MILLIMETRES)).get(signOf(unit)) ?? null;

/** What to multiply a number in `unit` by; null where the two have nothing in common. */
export function unitFactor(
  { kind, unit: own }: Pick<Measurement, 'kind' | 'unit'>,
  unit: string,
): number | null {
  if (own.toLowerCase() === unit.trim().toLowerCase()) return 1;
  const units = new Map(Object.entries(KINDS[kind]));
  const [from, to] = [units.get(signOf(unit)), units.get(signOf(own))];
  return from === undefined || to === undefined ? null : from / to;
}

const AMOUNT =
  /^([+\-\u2212]?)\s*([0-9.,\u00A0\u2009\u202F'’]*[0-9.,](?:e[+-]?[0-9]+)?)\s*([\p{L}%µ"]*)\.?$/iu;

/** A number and the unit behind it; both empty where the text is no such thing. */
export function numberAndUnit(text: string): { digits: string; unit: string } {
  const parts = AMOUNT.exec(text);
  return {
    digits: `${parts?.[1] ?? ''}${parts?.[2]?.trim() ?? ''}`,
    unit: parts?.[3] ?? '',
  };
}

/** A head such as `FW (g)`, `FW [kg]`, `FW, g` or `FW in g`, with its unit apart; null: it has none. */
export function unitInHead(head: string): { name: string; unit: string } | null {
  const found =
    /^(.*\S)\s*[[(]\s*([^\])]+?)\s*[\])]$/.exec(head) ??
    /^(.*\S)\s*(?:,|\/|\sin)\s*(\p{L}+|")\.?$/u.exec(head) ??
    /^(.*\S)\s+(\p{L}+)\.?$/u.exec(head);
  const [, name, unit] = found ?? [];
  return name !== undefined && unit !== undefined && isUnit(unit) ? { name, unit } : null;
}
