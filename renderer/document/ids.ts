import type { Plan } from '../../shared-types/plan';

/**
 * Letters of permanent ids. They only help the eye: an id is unique by its number alone, because
 * all kinds draw from the plan's one counter.
 */
export const idLetters = {
  shelf: 's',
  tray: 't',
  lamp: 'l',
  board: 'w',
  bay: 'b',
  lampKind: 'k',
  factor: 'f',
  level: 'v',
  measurement: 'm',
  reading: 'r',
  incident: 'i',
  zone: 'z',
  medium: 'd',
  circuit: 'c',
  run: 'run',
} as const;

export type IdKind = keyof typeof idLetters;

/** The next permanent id of a kind, and the plan that will never give it out again. */
export function takeId(plan: Plan, kind: IdKind): [id: string, plan: Plan] {
  return [`${idLetters[kind]}${plan.nextId}`, { ...plan, nextId: plan.nextId + 1 }];
}

/** Gives out ids from a counter that belongs to the caller's own copy of a plan. */
export function takeIdFrom(counter: { nextId: number }, kind: IdKind): string {
  const id = `${idLetters[kind]}${counter.nextId}`;
  counter.nextId += 1;
  return id;
}

/** The number in an id or in the tray part of a pot id. */
export function idNumber(id: string): number {
  return Number(/^[a-z]+([0-9]+)/.exec(id)?.[1] ?? 0);
}
