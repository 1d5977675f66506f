import { METER, type Calibration } from './calibration';
import { CHANGE } from './followed';
import { HEIGHT_MM, REFLECTED_PART } from './errorParts';
import { halfRangeOf } from './range';
import type { ShelfLight } from './shelfLight';
import { figure, plural, say, type UnitSystem } from '../../words';

const percentOf = (share: number) => figure(100 * share, 2);

/** What an estimate rests on; `mean` is what one deviation of each part does to the mean. */
export function estimatedReason({ withheld }: ShelfLight, mean: readonly number[]) {
  const [output = 0, height = 0, reflected = 0, room = 0] = mean.map((value) =>
    halfRangeOf(Math.abs(value)),
  );
  return (lengths: UnitSystem) =>
    `${withheld ? 'readings not believed' : 'no readings'}; lamp output ±${percentOf(output)} %, ` +
    `${say('length', lengths, HEIGHT_MM)} of hanging height ±${percentOf(height)} %` +
    (reflected > 0
      ? `, reflected light (known within ${100 * REFLECTED_PART} %) ±${percentOf(reflected)} %`
      : '') +
    (room > 0 ? `, light of the room ±${percentOf(room)} %` : '');
}

/** What a calibrated mean rests on. */
export function calibratedReason({ changed }: ShelfLight, { used, shared, carried }: Calibration) {
  const lux = halfRangeOf(Math.max(0, ...shared));
  const since = carried || changed;
  return () =>
    `${plural(used, 'reading')}; all share the meter’s own error ±${percentOf(halfRangeOf(METER))} %` +
    (lux > 0 ? `, the conversion from lux ±${percentOf(lux)} %` : '') +
    (since ? `, the change since ±${percentOf(CHANGE)} %` : '') +
    '; the rest is what single readings and places between them leave open';
}
