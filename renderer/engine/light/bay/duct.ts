/** What becomes of diffuse light that enters the gap beneath a board. */
export interface Duct {
  /** Share that leaves on the far side. */
  through: number;
  /** Share that comes back out where it entered. */
  back: number;
  /** Share of light on the lower strip that leaves at either end. */
  offStrip: number;
}

/**
 * A long gap of a height between a level surface and the lower edge of a board of a thickness, both
 * matt: its two mouths see each other by crossed strings (Hottel), F = (√(h² + t²) − t)/h, and the
 * rest meets the two strips above and below, which reflect between them.
 */
export function ductOf(
  heightMm: number,
  thicknessMm: number,
  reflectance: { below: number; above: number },
): Duct {
  const diagonal = Math.hypot(heightMm, thicknessMm);
  const mouthToMouth = (diagonal - thicknessMm) / heightMm;
  const mouthToStrip = (1 - mouthToMouth) / 2;
  const stripToMouth = (mouthToStrip * heightMm) / thicknessMm;
  const stripToStrip = (diagonal - heightMm) / thicknessMm;
  // Brightness of the strips for a mouth of brightness 1: two equations, solved.
  const { below, above } = reflectance;
  const loop = 1 - below * above * stripToStrip ** 2;
  const low = (below * stripToMouth * (1 + above * stripToStrip)) / loop;
  const high = (above * stripToMouth * (1 + below * stripToStrip)) / loop;
  const back = mouthToStrip * (low + high);
  // By reciprocity the strip sends to a mouth what the mouth's light makes of its brightness.
  return { through: mouthToMouth + back, back, offStrip: low };
}
