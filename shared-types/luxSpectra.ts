/**
 * Spectra of light, by which a lux meter is read as PPFD. Sources of the factors (lux per µmol m⁻² s⁻¹):
 * [A] Apogee Instruments, “Conversion – PPFD to lux”, page of a maker of quantum sensors (read);
 * [T] Thimijan & Heins 1983, HortScience 18:818–822 (cited by A);
 * [C] computed from spectra that the CIE has published (CIE 015:2018), PPFD = Σ λE / (N_A h c) over
 *     400–700 nm, lux = 683 Σ V(λ)E.
 */
export const luxSpectra = [
  'white',
  'white-red',
  'red-blue',
  'fluorescent',
  'sodium',
  'metal-halide',
  'sun',
  'incandescent',
  'file',
  'own',
] as const;
export type LuxSpectrum = (typeof luxSpectra)[number];

export const luxSpectrumWords: Record<LuxSpectrum, string> = {
  white: 'white LED',
  'white-red': 'white LED with red',
  'red-blue': 'red and blue LED',
  fluorescent: 'white fluorescent',
  sodium: 'high-pressure sodium',
  'metal-halide': 'metal halide',
  sun: 'sun and sky',
  incandescent: 'incandescent or halogen',
  file: 'from a spectrum file',
  own: 'my own factor',
};

/** A factor, lux per µmol m⁻² s⁻¹, and the range that holds 95 of 100 lamps. */
export interface LuxFactor {
  factor: number;
  lowest: number;
  highest: number;
}

/** What is published of a spectrum; null where the person says it. */
export const luxFactors = {
  // C: LED-B1 (2733 K) 67, B2 68, B3 (4103 K) 70, B4 72, B5 (6598 K) 69; wider for other phosphors.
  white: { factor: 70, lowest: 62, highest: 80 },
  // C: the same with 10 to 30 % of the photons at 660 nm.
  'white-red': { factor: 58, lowest: 50, highest: 66 },
  // C: from 8 (660 nm) to 33 (630 nm, nine tenths red). A spectrum of its own is far better.
  'red-blue': { factor: 18, lowest: 8, highest: 34 },
  // A, T: cool white 74; C: FL2 77.
  fluorescent: { factor: 75, lowest: 72, highest: 78 },
  // A, T: 82, double-ended 77; C: HP1 86.
  sodium: { factor: 82, lowest: 76, highest: 87 },
  // A: 71, ceramic 65 and 59.
  'metal-halide': { factor: 66, lowest: 58, highest: 73 },
  // A, T: sun 54; T: blue sky 52; C: D65 56.
  sun: { factor: 54, lowest: 51, highest: 57 },
  // T: 50; C: illuminant A 50.
  incandescent: { factor: 50, lowest: 48, highest: 52 },
  file: null,
  own: null,
} satisfies Record<LuxSpectrum, LuxFactor | null>;
