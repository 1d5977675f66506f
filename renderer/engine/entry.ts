/*
 * Entries of lists that are known to be there. An index outside is a mistake of the program, and a
 * nought in place of what is missing would be a wrong figure that nobody sees: it is thrown. One
 * function for each kind of list: a single one for all would make hot loops four times as slow.
 */

/** Entry `i` of real numbers. Throws a RangeError where there is none. */
export function real(list: Float64Array, i: number): number {
  const value = list[i];
  if (value === undefined) throw outside(list, i);
  return value;
}

/** Entry `i` of whole numbers, such as codes of levels. Throws a RangeError where there is none. */
export function whole(list: Int32Array, i: number): number {
  const value = list[i];
  if (value === undefined) throw outside(list, i);
  return value;
}

/** Entry `i` of a list of numbers. Throws a RangeError where there is none. */
export function num(list: readonly number[], i: number): number {
  const value = list[i];
  if (value === undefined) throw outside(list, i);
  return value;
}

/** Entry `i` of any other list. Throws a RangeError where there is none. */
export function entry<T>(list: readonly T[], i: number): T {
  const value = list[i];
  if (value === undefined) throw outside(list, i);
  return value;
}

/** Adds to entry `i`. Throws a RangeError where there is none. */
export function add(list: Float64Array, i: number, amount: number): void {
  list[i] = real(list, i) + amount;
}

function outside(list: ArrayLike<unknown>, i: number): RangeError {
  return new RangeError(`entry ${i} of a list of ${list.length}; one that is there is expected`);
}
