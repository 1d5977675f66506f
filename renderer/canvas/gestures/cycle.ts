import type { Point } from '../plane/box';

/** Clicks nearer to each other than this are clicks on the same place, px. */
const SAME_PLACE_PX = 6;

/** What the last click or key took out of a stack, and where. */
export interface Taken {
  ref: string;
  place: Point;
}

/** Whether what was taken last is still all that is selected. */
export function stillTaken(taken: Taken | null, selection: readonly string[]): taken is Taken {
  return taken !== null && selection.length === 1 && selection[0] === taken.ref;
}

export function isSamePlace(a: Point, b: Point, scale: number): boolean {
  return Math.hypot(a.across - b.across, a.up - b.up) * scale <= SAME_PLACE_PX;
}

/** The one thing selected, where it lies in the stack. */
export function selectedIn(
  stack: readonly string[],
  selection: readonly string[],
): string | undefined {
  const [only, ...more] = selection;
  return more.length === 0 ? stack.find((ref) => ref === only) : undefined;
}

/** The thing under `ref` in a stack; after the lowest comes the first again. */
export function nextUnder(stack: readonly string[], ref: string | undefined): string | undefined {
  const at = ref === undefined ? -1 : stack.indexOf(ref);
  return stack[at + 1] ?? stack[0];
}

/** `Tray 1A is 2 of 4 here: click again or press U for …`; empty where there is nothing to go on to. */
export function sayStack(
  stack: readonly string[],
  selection: readonly string[],
  nameOf: (ref: string) => string,
): string {
  const selected = selectedIn(stack, selection);
  const next = nextUnder(stack, selected);
  if (selected === undefined || next === undefined || next === selected) return '';
  const nth = stack.indexOf(selected) + 1;
  // That a shelf lies under all that stands on it needs no telling.
  if (nth === 1 && next.startsWith('shelf:')) return '';
  const name = nameOf(selected);
  const which = `${name.charAt(0).toUpperCase()}${name.slice(1)} is ${nth} of ${stack.length} here`;
  return `${which}: click again or press U for ${nameOf(next)}`;
}
