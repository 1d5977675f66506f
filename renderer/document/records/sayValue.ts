import { asWritten } from './typed';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { sayDay } from '../../words';

/** `12.5 g`: a value with its unit. */
export function sayValue(value: number, { unit }: Pick<Measurement, 'unit'>): string {
  const written = asWritten(value);
  return unit ? `${written} ${unit}` : written;
}

/** `at the start`, `on 2026-03-20`: when a measurement is taken. */
export function sayWhenTaken({ timepoint, date }: Pick<Measurement, 'timepoint' | 'date'>): string {
  switch (timepoint) {
    case 'start':
      return 'at the start';
    case 'interim':
      return date === null ? 'in between' : `on ${sayDay(date)}`;
    case 'harvest':
      return 'at harvest';
  }
}
