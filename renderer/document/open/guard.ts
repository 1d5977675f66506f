import { sayPath } from './words';

/** No part of a plan lies deeper; anything beyond is built to exhaust its reader. */
export const MAX_DEPTH = 32;
/** Names with which JavaScript objects can be turned against the program. */
const FORBIDDEN = ['__proto__', 'constructor', 'prototype'];

/**
 * Looks through parsed JSON for nesting that no plan has and for names that no plan may use.
 * Goes breadth by breadth, so that no nesting can exhaust it. Returns null where all is well.
 */
export function findHostile(
  root: unknown,
): { path: string; found: string; expected: string } | null {
  let level: { value: unknown; path: readonly PropertyKey[] }[] = [{ value: root, path: [] }];
  for (let depth = 0; level.length > 0; depth++) {
    const next: { value: unknown; path: readonly PropertyKey[] }[] = [];
    for (const { value, path } of level) {
      if (typeof value !== 'object' || value === null) continue;
      if (depth >= MAX_DEPTH) {
        return {
          path: sayPath(path.slice(0, 4)),
          found: `more than ${MAX_DEPTH} levels of brackets`,
          expected: 'no more than a plan has',
        };
      }
      if (Array.isArray(value)) {
        value.forEach((item, i) => {
          if (typeof item === 'object' && item !== null)
            next.push({ value: item, path: [...path, i] });
        });
        continue;
      }
      for (const [name, item] of Object.entries(value)) {
        if (FORBIDDEN.includes(name)) {
          return {
            path: sayPath(path),
            found: `the forbidden name "${name}"`,
            expected: 'only names that the format knows',
          };
        }
        if (typeof item === 'object' && item !== null) {
          next.push({ value: item, path: [...path, name] });
        }
      }
    }
    level = next;
  }
  return null;
}
