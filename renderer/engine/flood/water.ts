import { Refusal } from '../../words';

/** Standard acceleration of free fall, m s⁻². */
export const GRAVITY = 9.80665;
/** Temperature that weights are reckoned at; between 10 and 30 °C it moves them by 0.4 %. */
export const ROOM_C = 20;

/**
 * Density of air-free water, kg m⁻³, at 0–100 °C and ordinary pressure. Source: Kell 1975,
 * J. Chem. Eng. Data 20:97–105. Throws outside that range.
 */
export function waterDensityKgM3(celsius: number): number {
  if (!(celsius >= 0 && celsius <= 100)) {
    throw new Refusal(`water at ${celsius} °C: a temperature from 0 to 100 °C is expected`);
  }
  const t = celsius;
  const above =
    999.83952 +
    t *
      (16.945176 +
        t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
  return above / (1 + 16.87985e-3 * t);
}

/** Kinematic viscosity of water at 20 °C, m² s⁻¹. */
export const VISCOSITY_M2_S = 1.0034e-6;

export const M3_S_PER_L_MIN = 1 / 60_000;
