import { useCallback, useEffect, useRef, useState } from 'react';
import type { Box } from './plane/box';
import { boxInside, boxAround } from './plane/box';
import type { Scene } from './plane/scene';
import { outlineOf } from './plane/scene';
import type { Pixel, PixelSize, Viewport } from './plane/viewport';
import { fitted, isNarrow, visibleBox, zoomedAbout } from './plane/viewport';

/** Room left round a fitted rack for rulers, names and dimensions, px. */
const MARGINS = {
  wide: {
    front: { left: 140, right: 100, top: 44, bottom: 44 },
    above: { left: 64, right: 84, top: 64, bottom: 84 },
    all: { left: 116, right: 112, top: 38, bottom: 36 },
  },
  narrow: {
    front: { left: 42, right: 18, top: 32, bottom: 56 },
    above: { left: 28, right: 14, top: 46, bottom: 62 },
    all: { left: 26, right: 12, top: 34, bottom: 62 },
  },
} as const;
/** An empty rack shows the place where a common one would stand. */
const EMPTY_BOX: Box = { left: 0, right: 1200, bottom: 0, top: 1800 };
const ZOOM_STEP = 1.25;

interface Kept {
  view: Viewport;
  /** The size it was fitted to, as long as nobody has panned or zoomed: it may be fitted again. */
  fittedTo: PixelSize | null;
}

export interface ViewportControl {
  viewport: Viewport;
  set(view: Viewport): void;
  /** The viewport of this timepoint, also between two renderings. */
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
  const margin = MARGINS[isNarrow(size) ? 'narrow' : 'wide'][scene.view];
  return fitted(shown, size, margin, 3);
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

  let current = kept.current.get(key);
  if (size && !current) {
    current = { view: fitScene(scene, size), fittedTo: size };
    kept.current.set(key, current);
  }

  useEffect(() => {
    if (!size || busy) return;
    const at = kept.current.get(key);
    if (!at?.fittedTo) return;
    const resized = at.fittedTo.width !== size.width || at.fittedTo.height !== size.height;
    const seen = visibleBox(at.view, size);
    const outgrown = scene.bounds !== null && !boxInside(scene.bounds, seen);
    if (resized || outgrown) keep({ view: fitScene(scene, size), fittedTo: size });
  }, [size, scene, key, keep, busy]);

  if (!size || !current) return null;
  const now = () => kept.current.get(key)?.view ?? current.view;
  const set = (view: Viewport) => keep({ view, fittedTo: null });
  const zoomBy = (factor: number, about?: Pixel) =>
    set(zoomedAbout(now(), about ?? { x: size.width / 2, y: size.height / 2 }, factor));
  return {
    viewport: current.view,
    now,
    set,
    zoomBy,
    fit: () => keep({ view: fitScene(scene, size), fittedTo: size }),
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
