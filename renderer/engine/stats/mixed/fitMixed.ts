import { componentFits } from './components';
import type { RandomColumns } from './columnBlocks';
import type { MixedFit, MixedInput, RandomUnit } from './types';
import { Refusal } from '../../../words';
import { entry, whole } from '../../entry';

/** Names the unit and what is wrong with its codes; throws. */
export function checkUnits(random: readonly RandomUnit[], n: number): void {
  random.forEach(({ unit, codes, levels }, k) => {
    if (codes.length !== n) {
      throw new Refusal(`random unit ${unit}: ${codes.length} codes; expected ${n}, one a row`);
    }
    const bad = codes.findIndex((code) => code < 0 || code >= levels);
    if (bad >= 0) {
      throw new Refusal(
        `random unit ${unit}: code ${codes[bad]} in row ${bad + 1}; expected 0 to ${levels - 1}`,
      );
    }
    const used = new Set(codes).size;
    if (used < 2) {
      throw new Refusal(`random unit ${unit}: ${used} level in the data; expected at least two`);
    }
    if (used === n) {
      throw new Refusal(
        `random unit ${unit}: a level of its own for each of the ${n} rows, which is the residual ` +
          'already; expected several rows to a level',
      );
    }
    for (const other of random.slice(0, k)) {
      const pairs = new Set(codes.map((code, i) => code * other.levels + whole(other.codes, i)));
      if (pairs.size === used && new Set(other.codes).size === used) {
        throw new Refusal(
          `random unit ${unit}: divides the rows just as ${other.unit} does; expected units that ` +
            'differ',
        );
      }
    }
  });
}

/** Indicator columns of a unit. */
export function unitColumns({ unit, codes, levels }: RandomUnit): RandomColumns {
  const rows = Array.from({ length: levels }, (): number[] => []);
  codes.forEach((code, i) => entry(rows, code).push(i));
  const columns = rows.map((own) => ({
    rows: Int32Array.from(own),
    values: new Float64Array(own.length).fill(1),
  }));
  return { name: unit, columns };
}

/**
 * Mixed model with random intercepts, nested or crossed, by REML (Patterson & Thompson 1971).
 * Variances are polished to rounding; one at the edge of what is possible is exactly 0, with a
 * warning. Columns of X that repeat earlier ones have the coefficient NaN.
 */
export function fitMixed(input: MixedInput): MixedFit {
  return mixedFits(input)(input.y);
}

/** `fitMixed` for one response after another to the same layout. */
export function mixedFits(input: Omit<MixedInput, 'y'>): (y: Float64Array) => MixedFit {
  const { x, random, denominator } = input;
  checkUnits(random, x.rows);
  return componentFits({
    x,
    shown: x.columns,
    components: random.map(unitColumns),
    units: random,
    denominator,
  });
}
