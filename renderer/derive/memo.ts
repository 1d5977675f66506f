/**
 * Remembers the last results of a pure function by the identity of its inputs. Plans are immutable
 * and share what did not change, so identity is enough; a handful of entries covers undo and drag.
 */
export function memo<Args extends readonly unknown[], Result>(
  compute: (...args: Args) => Result,
  size = 4,
): (...args: Args) => Result {
  const entries: { args: Args; result: Result }[] = [];
  return (...args) => {
    const known = entries.findIndex(
      (entry) =>
        entry.args.length === args.length && entry.args.every((arg, i) => Object.is(arg, args[i])),
    );
    const entry = entries[known];
    if (entry) {
      if (known > 0) {
        entries.splice(known, 1);
        entries.unshift(entry);
      }
      return entry.result;
    }
    const result = compute(...args);
    entries.unshift({ args, result });
    entries.length = Math.min(entries.length, size);
    return result;
  };
}
