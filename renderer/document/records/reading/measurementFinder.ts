import type { Measurement } from '../../../../shared-types/trial/measurement';
import { plainName } from '../columns';

export type NoMeasurement = 'unknown-measurement' | 'several-measurements' | 'other-unit';

/** Finds measurements by what a line says of them. */
export function measurementFinder(measurements: readonly Measurement[]) {
  const known = new Map<string, Measurement | NoMeasurement>();
  const same = (written: string, own: string) =>
    written.trim() === '' || plainName(written) === plainName(own);
  return (name = '', timepoint = '', date = '', unit = ''): Measurement | NoMeasurement => {
    const key = JSON.stringify([name, timepoint, date, unit]);
    const before = known.get(key);
    if (before !== undefined) return before;
    const named = measurements.filter(
      (m) => plainName(name) === plainName(m.name) && same(timepoint, m.timepoint),
    );
    // A spreadsheet may have turned the date about: it decides only where the rest does not.
    const dated = named.length > 1 ? named.filter((m) => (m.date ?? '') === date.trim()) : named;
    const [found, other] = dated;
    const answer =
      named.length === 0
        ? 'unknown-measurement'
        : !found || other
          ? 'several-measurements'
          : same(unit, found.unit)
            ? found
            : 'other-unit';
    known.set(key, answer);
    return answer;
  };
}
