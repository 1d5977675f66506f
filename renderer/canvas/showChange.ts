import { useCallback } from 'react';
import type { Stage } from '../../shared-types/notice';
import type { BoundCommand } from '../document/compose';
import { isThing, refsChanged } from '../document/queries';
import { useStores, type Stores } from '../store';

/** How long a change stays marked. */
export const MARKED_MS = 1600;

/**
 * Carries out a command and shows what it changed: on its stage, selected, in the picture, marked for
 * a moment, and with the keyboard. False where it was refused.
 */
export function useActAndShow(): (command: BoundCommand, stage: Stage) => boolean {
  const stores = useStores();
  return useCallback(
    (command, stage) => {
      const before = stores.plan.getState().plan;
      const done = stores.plan.getState().dispatch(command, null);
      const after = stores.plan.getState().plan;
      if (!done.ok || !before || !after) return false;
      showChange(stores, refsChanged(before, after), stage);
      return true;
    },
    [stores],
  );
}

function showChange({ session }: Stores, refs: readonly string[], stage: Stage): void {
  const { goTo, select, mark } = session.getState();
  goTo(stage);
  mark(refs);
  const things = refs.filter(isThing);
  if (things.length > 0) select(things);
  // By then the stage is drawn.
  requestAnimationFrame(() => {
    const inPanel = refs.flatMap(
      (ref) => document.querySelector<HTMLElement>(`[data-ref="${CSS.escape(ref)}"]`) ?? [],
    )[0];
    if (things.length === 0 && inPanel) showInPanel(inPanel);
    else document.querySelector<HTMLElement>('[data-testid="rack-canvas"]')?.focus();
  });
}

function showInPanel(element: HTMLElement): void {
  element.scrollIntoView({ block: 'nearest' });
  element.querySelector<HTMLElement>('summary, button, input, select')?.focus();
  if (isStill()) return;
  const [from, to] = ['var(--focus)', 'transparent'].map((colour) => ({
    boxShadow: `0 0 0 3px ${colour}`,
  }));
  if (from && to) element.animate([from, from, to], { duration: MARKED_MS });
}

/** Whether the person wants nothing on the screen to move. */
export const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;
