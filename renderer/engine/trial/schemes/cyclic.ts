import { num, whole } from '../../entry';
/** The treatments of every block; no treatment twice in a block. */
export type BlockDesign = number[][];

// Beyond this many trial choices the search for starting blocks is given up.
const PATIENCE = 200_000;

/**
 * A balanced design made by turning starting blocks through all treatments (Bose 1939, Ann.
 * Eugenics 9:353–399): the differences within the starting blocks meet every non-zero residue
 * equally often. null where the sizes differ, the numbers do not allow balance, or no such
 * starting blocks are found.
 */
export function cyclicDesign(treatments: number, sizes: readonly number[]): BlockDesign | null {
  const t = treatments;
  const k = num(sizes, 0);
  if (sizes.length === 0 || sizes.length % t !== 0 || sizes.some((size) => size !== k)) return null;
  const starts = sizes.length / t;
  const lambda = (starts * k * (k - 1)) / (t - 1);
  if (!Number.isInteger(lambda)) return null;
  const found = startingBlocks(t, k, starts, lambda);
  if (!found) return null;
  return found.flatMap((start) =>
    Array.from({ length: t }, (_, turn) => start.map((i) => (i + turn) % t)),
  );
}

function startingBlocks(t: number, k: number, starts: number, lambda: number): number[][] | null {
  const met = new Int32Array(t);
  const blocks: number[][] = [[0]];
  let choices = 0;
  const extend = (): boolean => {
    const block = blocks.at(-1);
    if (!block || ++choices > PATIENCE) return false;
    if (block.length === k) {
      if (blocks.length === starts) return true;
      blocks.push([0]);
      if (extend()) return true;
      blocks.pop();
      return false;
    }
    for (let next = (block.at(-1) ?? 0) + 1; next < t; next++) {
      block.forEach((i) => bump(i, next, 1));
      if (met.every((count) => count <= lambda)) {
        block.push(next);
        if (extend()) return true;
        block.pop();
      }
      block.forEach((i) => bump(i, next, -1));
    }
    return false;
  };
  const bump = (i: number, j: number, by: number): void => {
    for (const difference of [(j - i + t) % t, (i - j + t) % t]) {
      met[difference] = whole(met, difference) + by;
    }
  };
  return extend() ? blocks : null;
}
