import { Refusal } from '../../words';
import { entry, num } from '../entry';

/** Power (in any unit) at a wavelength. */
export interface SpectrumPoint {
  nm: number;
  power: number;
}

/** J µmol⁻¹ of 1 nm light: N_A h c with the exact constants of the SI. */
const JOULE_NM_PER_UMOL = 119.626_565_6;
/** lm W⁻¹ at 555 nm: the definition of the candela. */
const LUMEN_PER_WATT = 683;
const PAR = { lowestNm: 400, highestNm: 700 };
/** A spectrum with wider steps misses the peak of a coloured LED, some 20 nm wide. */
const WIDEST_STEP_NM = 10;
/** Noise of a spectrometer may go below 0 by this share of the peak. */
const NOISE = 0.02;

// V(λ) of the CIE standard photometric observer of 1924, 380 to 780 nm in steps of 5 (ISO/CIE 23539).
const V_FROM_NM = 380;
const V_STEP_NM = 5;
const V = [
  0.000039, 0.000064, 0.00012, 0.000217, 0.000396, 0.00064, 0.00121, 0.00218, 0.004, 0.0073, 0.0116,
  0.01684, 0.023, 0.0298, 0.038, 0.048, 0.06, 0.0739, 0.09098, 0.1126, 0.13902, 0.1693, 0.20802,
  0.2586, 0.323, 0.4073, 0.503, 0.6082, 0.71, 0.7932, 0.862, 0.91485, 0.954, 0.9803, 0.99495, 1,
  0.995, 0.9786, 0.952, 0.9154, 0.87, 0.8163, 0.757, 0.6949, 0.631, 0.5668, 0.503, 0.4412, 0.381,
  0.321, 0.265, 0.217, 0.175, 0.1382, 0.107, 0.0816, 0.061, 0.04458, 0.032, 0.0232, 0.017, 0.01192,
  0.00821, 0.005723, 0.004102, 0.002929, 0.002091, 0.001484, 0.001047, 0.00074, 0.00052, 0.000361,
  0.000249, 0.000172, 0.00012, 0.000085, 0.00006, 0.000042, 0.00003, 0.000021, 0.000015,
];

function luminous(nm: number): number {
  const at = (nm - V_FROM_NM) / V_STEP_NM;
  const i = Math.floor(at);
  if (i < 0 || i + 1 >= V.length) return 0;
  return num(V, i) + (at - i) * (num(V, i + 1) - num(V, i));
}

/**
 * Lux per PPFD (lux per µmol m⁻² s⁻¹) of a spectrum: 683 Σ V(λ)E over PPFD = Σ λE / (N_A h c) from 400
 * to 700 nm, by trapezia of 1 nm; spectrum and V(λ) are taken straight between their points. Throws where
 * the spectrum does not span 400 to 700 nm, has gaps, or is negative beyond noise.
 */
export function luxPerPpfdOf(points: readonly SpectrumPoint[]): number {
  const sorted = [...points].sort((a, b) => a.nm - b.nm);
  refuseUnfit(sorted);
  const first = Math.ceil(entry(sorted, 0).nm);
  const last = Math.floor(entry(sorted, sorted.length - 1).nm);
  let [lux, joules, i] = [0, 0, 0];
  for (let nm = first; nm <= last; nm++) {
    while (i + 2 < sorted.length && entry(sorted, i + 1).nm < nm) i++;
    const [from, to] = [entry(sorted, i), entry(sorted, i + 1)];
    const share = (nm - from.nm) / (to.nm - from.nm);
    const power = Math.max(0, from.power + share * (to.power - from.power));
    lux += LUMEN_PER_WATT * luminous(nm) * power;
    const whole = nm > PAR.lowestNm && nm < PAR.highestNm;
    const end = nm === PAR.lowestNm || nm === PAR.highestNm;
    joules += power * nm * (whole ? 1 : end ? 0.5 : 0);
  }
  if (!(joules > 0)) throw new Refusal('no light from 400 to 700 nm; some is expected');
  return lux / (joules / JOULE_NM_PER_UMOL);
}

function refuseUnfit(sorted: readonly SpectrumPoint[]): void {
  const [first, last] = [sorted[0], sorted.at(-1)];
  const { lowestNm, highestNm } = PAR;
  if (!first || !last || first.nm > lowestNm || last.nm < highestNm) {
    const found = first && last ? `${first.nm} to ${last.nm} nm` : 'no wavelength';
    throw new Refusal(
      `the spectrum spans ${found}; ${lowestNm} to ${highestNm} nm at least is expected`,
    );
  }
  const peak = Math.max(...sorted.map(({ power }) => power));
  sorted.forEach(({ nm, power }, i) => {
    if (power < -NOISE * peak) {
      throw new Refusal(`the spectrum has ${power} at ${nm} nm; 0 or more is expected`);
    }
    const before = sorted[i - 1];
    if (!before || nm < lowestNm || before.nm > highestNm) return;
    if (nm === before.nm) {
      throw new Refusal(`the spectrum has ${nm} nm twice; each wavelength once is expected`);
    }
    if (nm - before.nm > WIDEST_STEP_NM) {
      throw new Refusal(
        `the spectrum has nothing between ${before.nm} and ${nm} nm; steps of ` +
          `${WIDEST_STEP_NM} nm at most are expected`,
      );
    }
  });
}
