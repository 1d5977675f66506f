import { formatLength, type UnitSystem } from '../../words';

/** A length as it is painted and spoken: whole tenths of a millimetre, or hundredths of an inch. */
export function shortLength(mm: number, system: UnitSystem): string {
  return system === 'metric'
    ? formatLength(mm, system)
    : formatLength(Math.round((mm / 25.4) * 100) * 0.254, system);
}
