import type { LampKind, Shelf } from '../../../shared-types/rack';
import { lampFlux } from '../lamps';
import type { PointMm } from './sources/direct';
import { shelfModel } from './model';
import type { ShelfLight } from './shelfLight';
import { figure, say, type UnitSystem } from '../../words';

/** How far a shelf's mean PPFD may be off, and what that rests on. */
export interface LightUncertainty {
  /** Null where nothing can be said. */
  plusMinusPercent: number | null;
  reason: (lengths: UnitSystem) => string;
}

// Working assumptions (common practice, no source): what a maker's flux or efficacy is good for,
// how well a lamp's height over the canopy is known, how well a reflectance is, and a sensor.
const STATED_OUTPUT = 0.1;
const HEIGHT_MM = 10;
const REFLECTED_PART = 0.3;
const METER_PERCENT = 5;

const meanOf = (values: Float64Array) => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Relative uncertainty about the shelf's photon flux: the range of lumens, or a maker's tolerance. */
function outputUncertainty(shelf: Shelf, lampKinds: readonly LampKind[]): number {
  let flux = 0;
  let uncertainty = 0;
  for (const lamp of shelf.lamps) {
    const kind = lampKinds.find((k) => k.id === lamp.kindId);
    if (!kind) continue;
    const { umolS, lowest, highest } = lampFlux(kind, lamp);
    flux += umolS;
    const range = Math.max(highest - umolS, umolS - lowest);
    uncertainty += range > 0 ? range : STATED_OUTPUT * umolS;
  }
  return flux > 0 ? uncertainty / flux : 0;
}

/**
 * LightUncertainty about the mean of the points' PPFD. Calibrated: the error of readings left out of the fit
 * in turn and the meter's own. Estimated: lamp output, 10 mm of hanging height and a third of the
 * reflected light, added in squares.
 */
export function uncertaintyOf(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: ShelfLight,
  request: { heightMm: number; reflected: boolean },
  points: readonly PointMm[],
): LightUncertainty {
  const { calibration } = light;
  if (calibration) {
    const left = calibration.leftOutPercent;
    if (left === null) {
      const reason = 'fewer than three readings: their own error cannot be judged';
      return { plusMinusPercent: null, reason: () => reason };
    }
    return {
      plusMinusPercent: Math.hypot(left, METER_PERCENT),
      reason: () =>
        `readings left out of the fit in turn are met within ${figure(left, 2)} %; ` +
        `a meter is good for about ${METER_PERCENT} %`,
    };
  }
  const mean = points.length > 0 ? meanOf(light.at(points)) : 0;
  if (!(mean > 0)) return { plusMinusPercent: null, reason: () => 'no pot is lit' };
  const nearer = points.map((p) => ({ ...p, zMm: p.zMm + HEIGHT_MM }));
  const output = 100 * outputUncertainty(shelf, lampKinds);
  const height = 100 * Math.abs(meanOf(light.at(nearer)) / mean - 1);
  let reflection = 0;
  let reflected = 'reflected light not counted';
  if (request.reflected) {
    const bare = shelfModel(shelf, lampKinds, { ...request, reflected: false });
    reflection = 100 * REFLECTED_PART * (1 - meanOf(bare.at(points)) / mean);
    reflected = reflection > 0 ? `reflected light ±${figure(reflection, 2)} %` : '';
  }
  return {
    plusMinusPercent: Math.hypot(output, height, reflection),
    reason: (lengths) =>
      `no readings; lamp output ±${figure(output, 2)} %, ` +
      `${say('length', lengths, HEIGHT_MM)} of hanging height ±${figure(height, 2)} %` +
      (reflected === '' ? '' : `, ${reflected}`),
  };
}
