import { spokenLocale } from '../words';
import type { Locale } from '../../shared-types/window/locale';

/**
 * Remembers the last results of a pure function by the identity of its inputs. Plans are immutable
 * and share what did not change, so identity is enough; a handful of entries covers undo and drag.
 * A result may hold sentences, so it is remembered by how numbers and days are written, too.
 */
export function memo<Args extends readonly unknown[], Result>(
  compute: (...args: Args) => Result,
  size = 4,
): (...args: Args) => Result {
  const entries: { args: Args; locale: Locale; result: Result }[] = [];
  return (...args) => {
    const locale = spokenLocale();
    const known = entries.findIndex(
      (entry) =>
        entry.locale === locale &&
        entry.args.length === args.length &&
        entry.args.every((arg, i) => Object.is(arg, args[i])),
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
    entries.unshift({ args, locale, result });
    entries.length = Math.min(entries.length, size);
    return result;
  };
}
