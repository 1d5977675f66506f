import { bounds, LEAST_ANGLE_STEP_DEG } from './bounds';
import { refuse, type NumberStream } from './numbers';
import { real } from '../../entry';

const MOST_ANGLES = 721;

/** How a lamp's output changes as it is tipped (IES LM-63, TILT=INCLUDE). */
export interface TiltTable {
  /** How the bare lamp lies in its fitting: 1 to 3 of the standard. */
  geometry: number;
  /** Tip from facing straight down, degrees, rising. */
  angles: Float64Array;
  multipliers: Float64Array;
  /** Multiplier at a tip in degrees: linear between the angles, beyond them that of the last. */
  shareAt: (tiltDeg: number) => number;
}

/** The table of a TILT line; null for TILT=NONE. Refuses a table that stands in another file. */
export function tiltTableOf(value: string, line: number, numbers: NumberStream): TiltTable | null {
  const word = value.toUpperCase();
  if (word === 'NONE') return null;
  if (word !== 'INCLUDE') {
    refuse(
      line,
      'the tilt table stands in another file',
      `TILT=${value.slice(0, 40)}`,
      'TILT=NONE or TILT=INCLUDE',
    );
  }
  const geometry = numbers.takeWhole('lamp-to-luminaire geometry', 1, 3);
  const count = numbers.takeWhole('count of tilt angles', 1, MOST_ANGLES);
  const angles = numbers.takeList(count, 'tilt angle', bounds.tiltAngle);
  for (let i = 1; i < count; i++) {
    const [before, angle] = [real(angles, i - 1), real(angles, i)];
    if (angle - before >= LEAST_ANGLE_STEP_DEG * (1 - 1e-9)) continue;
    refuse(numbers.line, 'tilt angles do not rise', `${angle} after ${before}`, `over ${before}`);
  }
  const multipliers = numbers.takeList(count, 'tilt multiplier', bounds.tiltMultiplier);
  return {
    geometry,
    angles,
    multipliers,
    shareAt: (tiltDeg) => between(angles, multipliers, tiltDeg),
  };
}

/** A table from 0 up says nothing of which way the lamp is tipped. */
function between(angles: Float64Array, multipliers: Float64Array, tiltDeg: number): number {
  const turned = ((((tiltDeg + 180) % 360) + 360) % 360) - 180;
  const angle = real(angles, 0) >= 0 ? Math.abs(turned) : turned;
  const next = angles.findIndex((one) => one >= angle);
  if (next === 0) return real(multipliers, 0);
  if (next < 0) return real(multipliers, multipliers.length - 1);
  const from = real(angles, next - 1);
  const share = (angle - from) / (real(angles, next) - from);
  return real(multipliers, next - 1) * (1 - share) + real(multipliers, next) * share;
}
