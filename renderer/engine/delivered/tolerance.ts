import type { DeliveredMeasure } from '../../../shared-types/delivered';

/**
 * How far a single figure may lie from what it should be before it counts as off, in the measure's
 * unit. Each is twice to three times what hand meters are commonly rated at, because a figure also
 * holds the hour of the day, the place of the probe and the days since its calibration:
 *
 * - EC: a tenth of it, at least 0.1 mS/cm. Meters ± 2 %; a probe 2 °C off in its compensation 4 %.
 * - pH: 0.3. Meters ± 0.1; electrodes drift by as much between weekly calibrations.
 * - Temperature: 1.5 °C. Sensors ± 0.5 °C; a degree for where the sensor hangs.
 * - Lamp hours: a quarter, the step of a common timer.
 * - PPFD: a tenth of it, at least 5 µmol m⁻² s⁻¹. Sensors ± 5 %; as much for their height and level.
 */
export function toleranceOf(measure: DeliveredMeasure, expected: number): number {
  switch (measure) {
    case 'ec':
      return Math.max(0.1, 0.1 * expected);
    case 'ph':
      return 0.3;
    case 'temperature':
      return 1.5;
    case 'hours':
      return 0.25;
    case 'ppfd':
      return Math.max(5, 0.1 * expected);
  }
}
