import { sayPath } from './words';

/** No part of a plan lies deeper; anything beyond is built to exhaust its reader. */
export const MAX_DEPTH = 32;
/** Names with which JavaScript objects can be turned against the program. */
const FORBIDDEN = ['__proto__', 'constructor', 'prototype'];

interface Node {
  value: object;
  /** What it stands in, and under which name; null for the root. */
  within: { node: Node; key: PropertyKey } | null;
}

/**
 * Looks through parsed JSON for nesting that no plan has and for names that no plan may use.
 * Goes breadth by breadth, so that no nesting can exhaust it. Returns null where all is well.
 */
export function findHostile(
  root: object,
): { path: string; found: string; expected: string } | null {
  let level: Node[] = [{ value: root, within: null }];
  for (let depth = 0; level.length > 0; depth++) {
    const next: Node[] = [];
    for (const node of level) {
      if (depth >= MAX_DEPTH) {
        return {
          path: sayPath(pathOf(node).slice(0, 4)),
          found: `more than ${MAX_DEPTH} levels of brackets`,
          expected: 'no more than a plan has',
        };
      }
      const isList = Array.isArray(node.value);
      for (const [key, item] of Object.entries(node.value) as [string, unknown][]) {
        if (FORBIDDEN.includes(key)) {
          return {
            path: sayPath(pathOf(node)),
            found: `the forbidden name "${key}"`,
            expected: 'only names that the format knows',
          };
        }
        if (typeof item !== 'object' || item === null) continue;
        next.push({ value: item, within: { node, key: isList ? Number(key) : key } });
      }
    }
    level = next;
  }
  return null;
}

function pathOf(node: Node): PropertyKey[] {
  const path: PropertyKey[] = [];
  for (let at = node.within; at !== null; at = at.node.within) path.unshift(at.key);
  return path;
}
