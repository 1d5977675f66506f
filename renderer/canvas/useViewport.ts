import { useCallback, useEffect, useRef, useState } from 'react';
import type { Box } from './plane/box';
import { boxInside, boxAround } from './plane/box';
import type { Scene } from './plane/scene';
import { outlineOf } from './plane/scene';
import type { Pixel, PixelSize, Viewport } from './plane/viewport';
import { fitted, visibleBox, zoomedAbout } from './plane/viewport';

/** Room left round a fitted rack for rulers, names and dimensions, px. */
const FRONT_MARGIN = { left: 140, right: 100, top: 44, bottom: 44 };
const ABOVE_MARGIN = { left: 64, right: 84, top: 64, bottom: 84 };
/** An empty rack shows the place where a common one would stand. */
const EMPTY_BOX: Box = { left: 0, right: 1200, bottom: 0, top: 1800 };
const ZOOM_STEP = 1.25;

interface Kept {
  view: Viewport;
  /** Nobody has panned or zoomed since it was fitted: it may be fitted again. */
  fitted: boolean;
}

export interface ViewportControl {
  viewport: Viewport;
  set(view: Viewport): void;
  /** The viewport of this moment, also between two renderings. */
  now(): Viewport;
  fit(): void;
  zoomTo(refs: readonly string[]): void;
  zoomBy(factor: number, about?: Pixel): void;
  zoomIn(): void;
  zoomOut(): void;
}

function fitScene(scene: Scene, size: PixelSize): Viewport {
  const front = scene.view === 'front';
  const box = scene.bounds ?? EMPTY_BOX;
  // The floor belongs to the picture of the whole rack.
  const shown = front ? { ...box, bottom: Math.min(0, box.bottom) } : box;
  return fitted(shown, size, front ? FRONT_MARGIN : ABOVE_MARGIN, 3);
}

/**
 * How the plane lies on the screen, remembered for each view. It is fitted when a view is opened
 * first, and again, as long as nobody has panned or zoomed, when the canvas is resized or the rack
 * outgrows the picture.
 */
export function useViewport(
  scene: Scene,
  size: PixelSize | null,
  key: string,
  busy: boolean,
): ViewportControl | null {
  const kept = useRef(new Map<string, Kept>());
  const [, redraw] = useState(0);

  const keep = useCallback(
    (next: Kept) => {
      kept.current.set(key, next);
      redraw((n) => n + 1);
    },
    [key],
  );

  const lastSize = useRef<PixelSize | null>(null);
  let current = kept.current.get(key);
  if (size && !current) {
    current = { view: fitScene(scene, size), fitted: true };
    kept.current.set(key, current);
  }

  useEffect(() => {
    if (!size || busy) return;
    const at = kept.current.get(key);
    const resized = lastSize.current !== null && lastSize.current !== size;
    lastSize.current = size;
    if (!at?.fitted) return;
    const seen = visibleBox(at.view, size);
    const outgrown = scene.bounds !== null && !boxInside(scene.bounds, seen);
    if (resized || outgrown) keep({ view: fitScene(scene, size), fitted: true });
  }, [size, scene, key, keep, busy]);

  if (!size || !current) return null;
  const now = () => kept.current.get(key)?.view ?? current.view;
  const set = (view: Viewport) => keep({ view, fitted: false });
  const zoomBy = (factor: number, about?: Pixel) =>
    set(zoomedAbout(now(), about ?? { x: size.width / 2, y: size.height / 2 }, factor));
  return {
    viewport: current.view,
    now,
    set,
    zoomBy,
    fit: () => keep({ view: fitScene(scene, size), fitted: true }),
    zoomTo: (refs) => {
      const box = boxAround(
        refs.flatMap((ref) => {
          const thing = scene.byRef.get(ref);
          if (thing?.kind === 'shelf' && scene.view === 'front') return [thing.bay];
          return outlineOf(scene, ref) ?? [];
        }),
      );
      if (box) set(fitted(box, size, { left: 80, right: 80, top: 80, bottom: 80 }, 4));
    },
    zoomIn: () => zoomBy(ZOOM_STEP),
    zoomOut: () => zoomBy(1 / ZOOM_STEP),
  };
}
