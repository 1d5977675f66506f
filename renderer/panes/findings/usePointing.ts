import { useEffect, type FocusEvent, type PointerEvent, type RefObject } from 'react';
import { useSession } from '../../store/context';

/** The pot, as `pot:…`, that a part of a figure stands for; null where it is none. */
export function potOfLink(target: EventTarget | null): string | null {
  const link = target instanceof Element ? target.closest('a') : null;
  const href = link?.getAttribute('href') ?? null;
  return href?.startsWith('#pot:') ? href.slice(1) : null;
}

/**
 * A dot that is pointed at, or has the focus, is told to the rack, which rings its pot; the dots of
 * what is pointed at or selected on the rack are ringed here. `drawn`: changes with the drawing.
 */
export function usePointing(frame: RefObject<HTMLElement | null>, drawn: unknown) {
  const point = useSession((s) => s.pointAt);
  const pointed = useSession((s) => s.pointed);
  const selection = useSession((s) => s.selection);
  useEffect(() => {
    const rung = [...selection, ...(pointed === null ? [] : [pointed])].flatMap((ref) => {
      if (!ref.startsWith('pot:') || !frame.current) return [];
      return [...frame.current.querySelectorAll(`a[href="#${CSS.escape(ref)}"]`)];
    });
    for (const link of rung) link.classList.add('is-pointed');
    return () => {
      for (const link of rung) link.classList.remove('is-pointed');
    };
  }, [frame, drawn, pointed, selection]);
  const setHover = useSession((s) => s.setHover);
  const show = (target: EventTarget | null) => {
    const ref = potOfLink(target);
    const words = target instanceof Element ? target.closest('a')?.querySelector('title') : null;
    point(ref);
    setHover(ref === null ? null : (words?.textContent ?? null));
  };
  const leave = () => show(null);
  return {
    onPointerOver: (event: PointerEvent) => show(event.target),
    onPointerLeave: leave,
    onFocus: (event: FocusEvent) => show(event.target),
    onBlur: leave,
  };
}
