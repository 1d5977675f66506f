import { whole } from '../../entry';

/**
 * A partition of the measured pots into classes (shelves, trays, blocks…): the class number of
 * every pot, counted from 0.
 */
export interface Partition {
  classOf: Int32Array;
  count: number;
}

/** Classes numbered in the order in which their keys are first met. */
export function partitionBy(keys: readonly string[]): Partition {
  const numbers = new Map<string, number>();
  const classOf = new Int32Array(keys.length);
  keys.forEach((key, i) => {
    let number = numbers.get(key);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(key, number);
    }
    classOf[i] = number;
  });
  return { classOf, count: numbers.size };
}

/** Every pot a class of its own. */
export const eachApart = (many: number): Partition => ({
  classOf: Int32Array.from({ length: many }, (_, i) => i),
  count: many,
});

/** All pots in one class. */
export const allInOne = (many: number): Partition => ({
  classOf: new Int32Array(many),
  count: Math.min(1, many),
});

/** The finest classes that both partitions split: pots alike in both. */
export function crossed(a: Partition, b: Partition): Partition {
  const numbers = new Map<number, number>();
  const classOf = new Int32Array(a.classOf.length);
  a.classOf.forEach((c, i) => {
    const pair = c * b.count + whole(b.classOf, i);
    const number = numbers.get(pair) ?? numbers.size;
    if (number === numbers.size) numbers.set(pair, number);
    classOf[i] = number;
  });
  return { classOf, count: numbers.size };
}

/** Whether every class of `fine` lies within one class of `coarse`. */
export function isNested(fine: Partition, coarse: Partition): boolean {
  const within = new Int32Array(fine.count).fill(-1);
  return fine.classOf.every((c, i) => {
    const around = whole(coarse.classOf, i);
    if (within[c] === -1) within[c] = around;
    return within[c] === around;
  });
}

/**
 * Number of parts that hang together when pots of one class, in either partition, are tied. The
 * rank of the two partitions' indicator columns together is a.count + b.count − this number.
 */
export function connectedParts(a: Partition, b: Partition): number {
  const parent = Array.from({ length: a.count + b.count }, (_, i) => i);
  const root = (i: number): number => {
    let at = i;
    for (;;) {
      const up = parent[at] ?? at;
      if (up === at) return at;
      at = up;
    }
  };
  a.classOf.forEach((c, i) => {
    parent[root(c)] = root(a.count + whole(b.classOf, i));
  });
  return parent.filter((up, i) => up === i).length;
}

/** The members of every class, as indices of pots in rising order. */
export function membersOf(partition: Partition): number[][] {
  const members: number[][] = Array.from({ length: partition.count }, () => []);
  partition.classOf.forEach((c, i) => members[c]?.push(i));
  return members;
}
