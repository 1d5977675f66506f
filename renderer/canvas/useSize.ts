import { useLayoutEffect, useState } from 'react';
import type { RefObject } from 'react';
import type { PixelSize } from './plane/viewport';

/** Size of an element in CSS pixels, kept up to date; null until it is laid out. */
export function useSize(element: RefObject<HTMLElement | null>): PixelSize | null {
  const [size, setSize] = useState<PixelSize | null>(null);
  useLayoutEffect(() => {
    const watched = element.current;
    if (!watched) return undefined;
    const measure = () => {
      const width = Math.round(watched.clientWidth);
      const height = Math.round(watched.clientHeight);
      if (width < 1 || height < 1) return;
      setSize((was) =>
        was && was.width === width && was.height === height ? was : { width, height },
      );
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(watched);
    return () => observer.disconnect();
  }, [element]);
  return size;
}
