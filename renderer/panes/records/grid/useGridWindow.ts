import { useLayoutEffect, useMemo, useRef, useState, type UIEvent } from 'react';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';

export const ROW_PX = 30;
/** Lines kept in the page above and below those in sight. */
const SPARE = 6;

/** Which lines are in the page, and how a wanted cell comes into sight and gets the focus. */
export function useGridWindow(
  pots: readonly Pot[],
  measurements: readonly Measurement[],
  wanted: { potId: string; measurementId: string } | null,
  onReached: () => void,
) {
  const frame = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const [height, setHeight] = useState(400);
  const rows = useMemo(() => new Map(pots.map((pot, row) => [pot.id, row])), [pots]);

  useLayoutEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setHeight(element.clientHeight));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);

  // A cell out of sight is brought into the page first, then focused.
  useLayoutEffect(() => {
    const element = frame.current;
    if (!wanted || !element) return;
    const row = rows.get(wanted.potId);
    const column = measurements.findIndex((m) => m.id === wanted.measurementId);
    if (row === undefined || column < 0) return;
    const head = element.querySelector('thead')?.clientHeight ?? ROW_PX;
    const lineTop = row * ROW_PX;
    const room = element.clientHeight - head - ROW_PX;
    if (lineTop < element.scrollTop) element.scrollTop = lineTop;
    else if (lineTop > element.scrollTop + room) element.scrollTop = lineTop - room;
    setTop(element.scrollTop);
    const input = element.querySelector<HTMLInputElement>(`[data-cell="${row}:${column}"]`);
    if (!input) return;
    input.focus({ preventScroll: true });
    // The cursor may have been here already: what is typed next replaces what stands here.
    input.select();
    onReached();
  }, [wanted, top, rows, measurements, onReached]);

  return {
    frame,
    from: Math.max(0, Math.floor(top / ROW_PX) - SPARE),
    to: Math.min(pots.length, Math.ceil((top + height) / ROW_PX) + SPARE),
    scrolled: (event: UIEvent<HTMLElement>) => setTop(event.currentTarget.scrollTop),
  };
}
