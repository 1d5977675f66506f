import { asWritten } from './typed';
import type { Measurement } from '../../../shared-types/trial';

/** `12.5 g`: a value with its unit. */
export function sayValue(value: number, { unit }: Pick<Measurement, 'unit'>): string {
  const written = asWritten(value);
  return unit ? `${written} ${unit}` : written;
}
