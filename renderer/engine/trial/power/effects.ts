import type { NestedMeans } from '../../../../shared-types/power';
import { Refusal } from '../../../words';

export interface FactorSize {
  name: string;
  levels: number;
}

/** A main effect or interaction by the positions of its factors. */
export interface Term {
  name: string;
  factors: number[];
  df: number;
}

/** Every main effect and interaction: main effects first, then by number of factors. */
export function allTerms(factors: readonly FactorSize[]): Term[] {
  const terms: Term[] = [];
  for (let set = 1; set < 2 ** factors.length; set++) {
    const members = factors.flatMap((factor, i) => ((set >> i) & 1 ? [{ factor, i }] : []));
    terms.push({
      name: members.map(({ factor }) => factor.name).join(' × '),
      factors: members.map(({ i }) => i),
      df: members.reduce((product, { factor }) => product * (factor.levels - 1), 1),
    });
  }
  return terms.sort((a, b) => a.factors.length - b.factors.length);
}

/** Means of all cells, the last factor running fastest; refuses a shape that does not fit. */
export function flatMeans(means: NestedMeans, factors: readonly FactorSize[]): number[] {
  const flat: number[] = [];
  const walk = (part: NestedMeans, depth: number, where: string): void => {
    const factor = factors[depth];
    if (!factor) {
      if (typeof part !== 'number') {
        throw new Refusal(`${where}: a list; expected a number, one mean a treatment`);
      }
      if (!Number.isFinite(part)) throw new Refusal(`${where}: ${part}; expected a finite number`);
      flat.push(part);
      return;
    }
    const expected = `expected a list of ${factor.levels}, one for each level of ${factor.name}`;
    if (typeof part === 'number') throw new Refusal(`${where}: the number ${part}; ${expected}`);
    if (part.length !== factor.levels) {
      throw new Refusal(`${where}: a list of ${part.length}; ${expected}`);
    }
    part.forEach((below, i) => walk(below, depth + 1, `${where}[${i}]`));
  };
  walk(means, 0, 'means');
  return flat;
}

/**
 * Mean square over cells of the effects of a term (its variance with divisor: number of cells), the
 * classical decomposition of the cell means of a balanced factorial: the effect in a cell is the
 * alternating sum of the marginal means over the term's factors.
 */
export function meanSquareOfEffects(
  cellMeans: readonly number[],
  factors: readonly FactorSize[],
  term: Term,
): number {
  const cells = cellMeans.length;
  // Position of each cell's level, the last factor running fastest.
  const levelOf = (cell: number, factor: number): number => {
    let stride = 1;
    for (let k = factor + 1; k < factors.length; k++) stride *= factors[k]?.levels ?? 1;
    return Math.floor(cell / stride) % (factors[factor]?.levels ?? 1);
  };
  const centre = cellMeans.reduce((sum, mean) => sum + mean, 0) / cells;
  let effects: number[] = cellMeans.map((mean) => mean - centre);
  // Average over the factors outside the term; sweep out the mean along each factor inside it.
  factors.forEach((_, factor) => {
    const inside = term.factors.includes(factor);
    const sums = new Map<string, { sum: number; n: number }>();
    const lineOf = (cell: number): string =>
      factors.map((__, other) => (other === factor ? '' : levelOf(cell, other))).join(',');
    effects.forEach((effect, cell) => {
      const line = sums.get(lineOf(cell)) ?? { sum: 0, n: 0 };
      sums.set(lineOf(cell), { sum: line.sum + effect, n: line.n + 1 });
    });
    effects = effects.map((effect, cell) => {
      const line = sums.get(lineOf(cell)) ?? { sum: 0, n: 1 };
      const mean = line.sum / line.n;
      return inside ? effect - mean : mean;
    });
  });
  const meanSquare = effects.reduce((sum, effect) => sum + effect * effect, 0) / cells;
  const spread = cellMeans.reduce((most, mean) => Math.max(most, Math.abs(mean - centre)), 0);
  // What is left of means that add up exactly is rounding, not an effect.
  return meanSquare < (1e-13 * (spread + 1e-3 * Math.abs(centre))) ** 2 ? 0 : meanSquare;
}
