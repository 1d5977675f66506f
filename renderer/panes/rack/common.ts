/** The value that all of the things share; null where they differ (or there is none). */
export function shared<T, V>(things: readonly T[], read: (thing: T) => V): V | null {
  const [first, ...rest] = things;
  if (first === undefined) return null;
  const value = read(first);
  return rest.every((thing) => Object.is(read(thing), value)) ? value : null;
}
