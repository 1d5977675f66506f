import type { UnitSystem } from '../../shared-types/window/locale';
import { figure, trimmed } from './numbers';

/** The person's choice: millimetres, litres and kilograms, or inches, US gallons and pounds. */
export type { UnitSystem };

/** One unit: how much of the engine's own unit it is, and how its figures are cut for a sentence. */
interface Unit {
  sign: string;
  /** Own units in one of these. */
  size: number;
  /** What it reads where the own unit reads 0, if not 0. */
  zero?: number;
  /** Either so many decimals at most, or so many significant digits. */
  digits: { decimals: number } | { significant: number };
}

const three = { significant: 3 } as const;

/**
 * What the person reads, by quantity; the engine's own unit comes first. All factors are exact: NIST
 * SP 811 (2008), B.8, inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg, US gallon of 231 cubic inches,
 * 128 fluid ounces to it, degree Fahrenheit 5/9 of a kelvin from 32.
 */
const units = {
  length: {
    metric: { sign: 'mm', size: 1, digits: { decimals: 1 } },
    imperial: { sign: 'in', size: 25.4, digits: { decimals: 2 } },
  },
  /** Lift, head and pipe. */
  run: {
    metric: { sign: 'm', size: 1, digits: three },
    imperial: { sign: 'ft', size: 0.3048, digits: three },
  },
  volume: {
    metric: { sign: 'L', size: 1, digits: three },
    imperial: { sign: 'gal', size: 3.785411784, digits: three },
  },
  flow: {
    metric: { sign: 'L/min', size: 1, digits: three },
    imperial: { sign: 'gal/min', size: 3.785411784, digits: three },
  },
  /** What one pot drinks. */
  dose: {
    metric: { sign: 'mL', size: 1, digits: three },
    imperial: { sign: 'fl oz', size: 29.5735295625, digits: three },
  },
  mass: {
    metric: { sign: 'kg', size: 1, digits: three },
    imperial: { sign: 'lb', size: 0.45359237, digits: three },
  },
  temperature: {
    metric: { sign: '°C', size: 1, digits: { decimals: 1 } },
    imperial: { sign: '°F', size: 5 / 9, zero: 32, digits: { decimals: 1 } },
  },
  density: {
    metric: { sign: 'kg/m³', size: 1, digits: three },
    imperial: { sign: 'lb/ft³', size: 0.45359237 / 0.3048 ** 3, digits: three },
  },
  /** How much something rises over its length. */
  slope: {
    metric: { sign: 'mm/m', size: 1, digits: three },
    imperial: { sign: 'in/ft', size: 25.4 / 0.3048, digits: three },
  },
} as const satisfies Record<string, Record<UnitSystem, Unit>>;

export type Quantity = keyof typeof units;

/** `mm`, `gal/min`… */
export function unitOf(quantity: Quantity, system: UnitSystem): string {
  return units[quantity][system].sign;
}

/** A figure in the engine's own unit as the number that the person reads. */
export function shownIn(quantity: Quantity, system: UnitSystem, own: number): number {
  const { size, zero = 0 }: Unit = units[quantity][system];
  return own / size + zero;
}

/** A number that the person typed, in the engine's own unit. */
export function ownFrom(quantity: Quantity, system: UnitSystem, shown: number): number {
  const { size, zero = 0 }: Unit = units[quantity][system];
  return (shown - zero) * size;
}

/** How far two figures lie apart, as the person reads it; of a temperature without its zero. */
export function apartIn(quantity: Quantity, system: UnitSystem, own: number): number {
  return own / units[quantity][system].size;
}

/** A figure with its unit for a sentence: `39.6 mm`, `1.56 in`, `12.1 L`. */
export function say(quantity: Quantity, system: UnitSystem, own: number): string {
  const { sign, digits }: Unit = units[quantity][system];
  const shown = shownIn(quantity, system, own);
  const text =
    'decimals' in digits ? trimmed(shown, digits.decimals) : figure(shown, digits.significant);
  return `${text} ${sign}`;
}

/** Speaks of every quantity in one system, for sentences with many figures. */
export type Speech = Record<Quantity, (own: number) => string>;

export function speechIn(system: UnitSystem): Speech {
  const of = (quantity: Quantity) => (own: number) => say(quantity, system, own);
  return {
    length: of('length'),
    run: of('run'),
    volume: of('volume'),
    flow: of('flow'),
    dose: of('dose'),
    mass: of('mass'),
    temperature: of('temperature'),
    density: of('density'),
    slope: of('slope'),
  };
}
