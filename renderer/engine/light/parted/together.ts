import { add, entry, real } from '../../entry';
import { solveRadiosity, type BayBox, type FaceGrid, type PatchRange } from '../bay';

/** By lamp group; of light from outside, by what sends it, see `around/keys`. */
export type ScaleOf = (key: string) => number;

/** A bay's box, and what its patches give off by the direct light of lamps, by key. */
export interface LitBox {
  box: BayBox;
  rho: Float64Array;
  byGroup: Map<string, Float64Array>;
}

/** Light that passes from a bay to another, or back to itself, for what arrives at its patches. */
export interface Passage {
  from: number;
  to: number;
  /** The face of the bay that light leaves at whose patches it arrives. */
  face: FaceGrid;
  pass: (arriving: Float64Array, entering: Float64Array) => void;
}

const MOST_ROUNDS = 60;
const SETTLED = 1e-5;

/**
 * Each bay by itself, then what passes between them, until that settles: a gap lets little pass, and
 * of that little comes back.
 */
export function solveTogether(
  lit: readonly LitBox[],
  passages: readonly Passage[],
  scaleOf: ScaleOf,
): Float64Array[] {
  const emitted = lit.map(({ box, byGroup }) => {
    const sum = new Float64Array(box.count);
    for (const [group, given] of byGroup) {
      const scale = scaleOf(group);
      if (scale === 0) continue;
      for (let i = 0; i < sum.length; i++) add(sum, i, scale * real(given, i));
    }
    return sum;
  });
  // Elsewhere nobody asks what arrives.
  const read = lit.map((_, b): PatchRange[] => {
    const faces = passages.flatMap(({ from, face }) => (from === b ? [face] : []));
    return [...new Set(faces)].map(({ first, across, up }) => [first, first + across * up]);
  });
  const solve = (extra: readonly Float64Array[]) =>
    lit.map(({ box, rho }, b) => {
      const entering = entry(extra, b);
      const given = entry(emitted, b).map((value, i) => value + real(entering, i));
      return solveRadiosity(box, rho, given, entry(read, b));
    });
  const none = () => lit.map(({ box }) => new Float64Array(box.count));
  let extra = none();
  for (let round = 1; ; round++) {
    const answers = solve(extra);
    const leaving = answers.map((answer) => answer.leaving);
    if (passages.length === 0 || round === MOST_ROUNDS) return leaving;
    const next = none();
    for (const { from, to, pass } of passages) {
      pass(entry(answers, from).arriving, entry(next, to));
    }
    if (hasSettled(extra, next)) return leaving;
    extra = next;
  }
}

function hasSettled(before: readonly Float64Array[], after: readonly Float64Array[]): boolean {
  let [change, most] = [0, 0];
  after.forEach((list, b) => {
    const old = entry(before, b);
    list.forEach((value, i) => {
      change = Math.max(change, Math.abs(value - real(old, i)));
      most = Math.max(most, value);
    });
  });
  return change <= SETTLED * most;
}
