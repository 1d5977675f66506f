import { useEffect, useRef } from 'react';
import { shelfOf } from '../document/queries';
import type { CanvasPort } from './canvasPort';
import { boxAround, boxInside } from './plane/box';
import { outlineOf, type Scene } from './plane/scene';
import { centredOn, visibleBox, type PixelSize } from './plane/viewport';
import type { ViewportControl } from './useViewport';

/** Looking for the outlines of more takes longer than anybody searches for one of them. */
const MOST_LOOKED_FOR = 50;

/**
 * What is selected elsewhere, by a scan, a key or a notice, comes into the picture: its shelf
 * is opened where another one is seen from above, and a zoomed picture moves as far as it has to.
 */
export function useSelectionInView(
  room: CanvasPort,
  scene: Scene,
  control: ViewportControl | null,
  size: PixelSize | null,
): void {
  const { selection, shown, shelfId, showShelf } = room;
  const latest = useRef({ scene, control, size, shown, shelfId, showShelf });
  useEffect(() => {
    latest.current = { scene, control, size, shown, shelfId, showShelf };
  });
  // For another selection alone: who moves the picture away has seen it.
  useEffect(() => {
    const now = latest.current;
    const [first] = selection;
    if (first === undefined || selection.length > MOST_LOOKED_FOR) return;
    const outlines = selection.flatMap((ref) => outlineOf(now.scene, ref) ?? []);
    if (outlines.length === 0 && now.scene.view === 'above') {
      const shelf = shelfOf(now.shown, first);
      if (shelf && shelf.id !== now.shelfId) now.showShelf(shelf.id);
      return;
    }
    const [one] = outlines;
    if (!one || !now.control || !now.size) return;
    const seen = visibleBox(now.control.now(), now.size);
    if (outlines.some((box) => boxInside(box, seen))) return;
    // What is larger than the picture has no place in which it is seen better.
    const box = boxAround([one]) ?? one;
    if (box.right - box.left > seen.right - seen.left) return;
    now.control.set(centredOn(now.control.now(), box, now.size));
  }, [selection]);
}
