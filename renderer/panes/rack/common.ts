import type { ValuesOf } from '../../ui';

/** The value that all of the things share; null where they differ (or there is none). */
export function shared<T, V>(things: readonly T[], read: (thing: T) => V): V | null {
  const [first, ...rest] = things;
  if (first === undefined) return null;
  const value = read(first);
  return rest.every((thing) => Object.is(read(thing), value)) ? value : null;
}

/** Of each value, the one that all of the things share. */
export function sharedValues<T extends object>(things: readonly T[]): ValuesOf<T> {
  const keys = Object.keys(things[0] ?? {}) as (keyof T)[];
  return Object.fromEntries(
    keys.map((key) => [key, shared(things, (thing) => thing[key])]),
  ) as ValuesOf<T>;
}
