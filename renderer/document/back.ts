import { changedKeys } from './changedKeys';

/** How to get from a later state of something back to an earlier one, without keeping all of that. */
export type Back =
  | { kind: 'whole'; was: unknown }
  /** `gone`: what the later state has and the earlier had not. */
  | { kind: 'group'; set: readonly (readonly [string, Back])[]; gone: readonly string[] }
  /** The first so many of the later list. */
  | { kind: 'start'; many: number };

type Group = Readonly<Record<string, unknown>>;

/** With more changes than this the earlier state itself takes less room. */
const MOST = 200;

/** The way back from `after` to `before`: of thousands of values one that was typed is kept. */
export function backFrom(after: unknown, before: unknown): Back {
  if (Array.isArray(before) && Array.isArray(after)) {
    const isStart = before.length <= after.length && before.every((one, i) => one === after[i]);
    return isStart ? { kind: 'start', many: before.length } : { kind: 'whole', was: before };
  }
  if (!isGroup(before) || !isGroup(after)) return { kind: 'whole', was: before };
  const keys = changedKeys(before, after);
  if (keys.length > MOST) return { kind: 'whole', was: before };
  const [had, gone] = [keys.filter((key) => key in before), keys.filter((key) => !(key in before))];
  return {
    kind: 'group',
    set: had.map((key) => [key, backFrom(after[key], before[key])] as const),
    gone,
  };
}

/** The earlier state. */
export function goBack(after: unknown, back: Back): unknown {
  switch (back.kind) {
    case 'whole':
      return back.was;
    case 'start':
      return Array.isArray(after) ? after.slice(0, back.many) : after;
    case 'group': {
      const before: Record<string, unknown> = isGroup(after) ? { ...after } : {};
      for (const key of back.gone) Reflect.deleteProperty(before, key);
      for (const [key, way] of back.set) before[key] = goBack(before[key], way);
      return before;
    }
  }
}

function isGroup(value: unknown): value is Group {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
