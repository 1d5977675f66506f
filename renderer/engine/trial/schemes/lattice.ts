import type { BlockDesign } from './cyclic';
import { num } from '../../entry';

const isPrime = (n: number): boolean => {
  for (let d = 2; d * d <= n; d++) if (n % d === 0) return false;
  return n > 1;
};

/**
 * A square lattice for s² treatments in blocks of s: with the treatments in a square, a replicate
 * each of its rows, its columns and the letters of Latin squares that are orthogonal to each other
 * (Yates 1936, J. Agric. Sci. 26:424–455). The squares are cyclic, letter m × row + column; beyond
 * the first they are orthogonal where s is prime. null where the numbers make no lattice.
 */
export function latticeDesign(treatments: number, sizes: readonly number[]): BlockDesign | null {
  const s = num(sizes, 0);
  const replicates = sizes.length / s;
  const most = isPrime(s) ? s + 1 : 3;
  const fits = s * s === treatments && s > 1 && sizes.every((size) => size === s);
  if (!fits || !Number.isInteger(replicates) || replicates < 2 || replicates > most) return null;
  const numbers = Array.from({ length: s }, (_, i) => i);
  const letterOf = (replicate: number, row: number, column: number): number => {
    if (replicate === 0) return row;
    if (replicate === 1) return column;
    return ((replicate - 1) * row + column) % s;
  };
  return Array.from({ length: replicates }, (_, replicate) => replicate).flatMap((replicate) =>
    numbers.map((letter) =>
      numbers.flatMap((row) =>
        numbers
          .filter((column) => letterOf(replicate, row, column) === letter)
          .map((column) => row * s + column),
      ),
    ),
  );
}
