import type { FloodZone } from '../../../../shared-types/flood';
import { GRAVITY, M3_S_PER_L_MIN, VISCOSITY_M2_S } from '../water';
import { Refusal } from '../../../words';

/**
 * Friction factor (Darcy) of a smooth tube: 64/Re while laminar, Blasius 0.3164/Re^¼ beyond, and
 * (0.79 ln Re − 1.64)⁻² (Petukhov) where that is larger, from about Re 6·10⁴ on. Between laminar
 * and turbulent the larger is taken, which errs to more loss.
 */
export function frictionFactor(reynolds: number): number {
  if (!(reynolds > 0)) {
    throw new Refusal(`Reynolds number ${reynolds}: a number above 0 is expected`);
  }
  const smooth = Math.max(64 / reynolds, 0.3164 / reynolds ** 0.25);
  return reynolds < 20_000 ? smooth : Math.max(smooth, (0.79 * Math.log(reynolds) - 1.64) ** -2);
}

/** Head lost in a run of smooth tube with fittings, m: (f L/D + ΣK) v²/2g (Darcy–Weisbach). */
export function pipeLossM(pipe: FloodZone['pipe'], flowLMin: number): number {
  if (flowLMin <= 0) return 0;
  const boreM = pipe.boreMm / 1000;
  const speed = (flowLMin * M3_S_PER_L_MIN) / ((Math.PI / 4) * boreM ** 2);
  const friction = frictionFactor((speed * boreM) / VISCOSITY_M2_S);
  return ((friction * pipe.lengthM) / boreM + pipe.lossFactor) * (speed ** 2 / (2 * GRAVITY));
}
