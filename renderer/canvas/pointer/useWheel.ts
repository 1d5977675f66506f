import { useEffect, useRef, type RefObject } from 'react';
import { panned, type Pixel } from '../plane/viewport';
import type { ViewportControl } from '../useViewport';

/** Pixels of a line, where a wheel counts in lines. */
const LINE_PX = 18;

/** What a turn of the wheel does: zooms with Ctrl, goes sideways with Shift, else goes along. */
export function turnWheel(view: ViewportControl, event: WheelEvent, at: Pixel): void {
  const unit = event.deltaMode === 1 ? LINE_PX : 1;
  const dx = event.deltaX * unit;
  const dy = event.deltaY * unit;
  if (event.ctrlKey || event.metaKey) {
    view.zoomBy(Math.exp(-Math.max(-60, Math.min(60, dy)) * 0.006), at);
  } else if (event.shiftKey && dx === 0) {
    view.set(panned(view.now(), -dy, 0));
  } else {
    view.set(panned(view.now(), -dx, -dy));
  }
}

export function pixelIn(element: Element | null, at: { clientX: number; clientY: number }): Pixel {
  const box = element?.getBoundingClientRect();
  return { x: at.clientX - (box?.left ?? 0), y: at.clientY - (box?.top ?? 0) };
}

/** The wheel over an element; heard by hand, for React's listeners cannot keep the page still. */
export function useWheel(
  wrapper: RefObject<HTMLElement | null>,
  viewNow: () => ViewportControl | null,
): void {
  const latest = useRef(viewNow);
  latest.current = viewNow;
  useEffect(() => {
    const element = wrapper.current;
    if (!element) return undefined;
    const onWheel = (event: WheelEvent) => {
      const view = latest.current();
      if (!view) return;
      event.preventDefault();
      turnWheel(view, event, pixelIn(element, event));
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, [wrapper]);
}
