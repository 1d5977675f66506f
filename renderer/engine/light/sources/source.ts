/**
 * What one lamp sends to a small flat receiver that sees light by the cosine of incidence.
 * Position in mm in the shelf's axes; (rx, ry, rz) is the unit normal of the receiving side, which
 * is (0, 0, 1) for a canopy. Answers µmol m⁻² s⁻¹ per µmol s⁻¹ of the lamp, that is m⁻².
 */
export type Source = (
  x: number,
  y: number,
  z: number,
  rx: number,
  ry: number,
  rz: number,
) => number;

/**
 * The same for many level, upward facing receivers at once: adds `fluxUmolS` times what each gets
 * to `sum`. For sources whose closed form is quick enough that the loop around it counts.
 */
export type LevelSource = (
  xs: Float64Array,
  ys: Float64Array,
  zs: Float64Array,
  fluxUmolS: number,
  sum: Float64Array,
) => void;

/** Lengths are in mm and fluxes per m². */
export const PER_MM2_TO_PER_M2 = 1e6;
