import { useEffect, type FocusEvent, type PointerEvent, type RefObject } from 'react';
import { useSession } from '../../../store/context';
import { rowsOfPot, useRowPots } from './useRowPots';

/** The row of the findings that a part of a figure stands for; null where it is none. */
export function rowOfLink(target: EventTarget | null): string | null {
  const link = target instanceof Element ? target.closest('a') : null;
  const href = link?.getAttribute('href') ?? null;
  return href?.startsWith('#pot:') ? decodeURI(href.slice('#pot:'.length)) : null;
}

/**
 * A dot that is pointed at, or has the focus, is told to the rack, which rings its pot; the dots of
 * what is pointed at or selected on the rack are ringed here. `drawn`: changes with the drawing.
 */
export function usePointing(frame: RefObject<HTMLElement | null>, drawn: unknown) {
  const { potHere, inHand } = useRowPots();
  const point = useSession((s) => s.pointAt);
  const pointed = useSession((s) => s.pointed);
  const selection = useSession((s) => s.selection);
  useEffect(() => {
    const rung = [...selection, ...(pointed === null ? [] : [pointed])].flatMap((ref) => {
      const figure = frame.current;
      if (!ref.startsWith('pot:') || !figure) return [];
      return rowsOfPot(ref.slice('pot:'.length), inHand).flatMap((row) => [
        ...figure.querySelectorAll(`a[href="#pot:${CSS.escape(row)}"]`),
      ]);
    });
    for (const link of rung) link.classList.add('is-pointed');
    return () => {
      for (const link of rung) link.classList.remove('is-pointed');
    };
  }, [frame, drawn, pointed, selection, inHand]);
  const setHover = useSession((s) => s.setHover);
  const show = (target: EventTarget | null) => {
    const row = rowOfLink(target);
    const pot = row === null ? null : potHere(row);
    const words = target instanceof Element ? target.closest('a')?.querySelector('title') : null;
    point(pot === null ? null : `pot:${pot}`);
    setHover(row === null ? null : (words?.textContent ?? null));
  };
  const leave = () => show(null);
  return {
    onPointerOver: (event: PointerEvent) => show(event.target),
    onPointerLeave: leave,
    onFocus: (event: FocusEvent) => show(event.target),
    onBlur: leave,
  };
}
