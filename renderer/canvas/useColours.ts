import { useLayoutEffect, useState } from 'react';
import type { RefObject } from 'react';
import type { CanvasColours } from './paint/colours';
import { readColours } from './paint/colours';

/** The tokens of the theme in force, read once for each theme; null before the first layout. */
export function useColours(element: RefObject<HTMLElement | null>): CanvasColours | null {
  const [colours, setColours] = useState<CanvasColours | null>(null);
  useLayoutEffect(() => {
    const at = element.current;
    if (!at) return undefined;
    const read = () => setColours(readColours(at));
    read();
    // The theme is an attribute of the root; letters are measured anew once the font is there.
    const observer = new MutationObserver(read);
    observer.observe(document.documentElement, {
      attributes: true,
      attributeFilter: ['data-theme'],
    });
    let here = true;
    void document.fonts.ready.then(() => {
      if (here) read();
    });
    return () => {
      here = false;
      observer.disconnect();
    };
  }, [element]);
  return colours;
}
