/**
 * α, the risk of a false alarm that goes with a confidence: 1 − confidence without the rounding of that
 * difference (1 − 0.95 is a little over 0.05). A share of layouts may be α exactly, and is then to be
 * judged alike by the test, which asks for p < α, and by the interval.
 */
export function alphaOf(confidence: number): number {
  return Math.round((1 - confidence) * 1e12) / 1e12;
}
