import { useEffect, useRef } from 'react';
import type { FocusEvent } from 'react';
import { stripLine, withEnclosing, type Told } from './plane/describe';
import type { CanvasPort } from './canvasPort';

/** While the keyboard goes about, the strip tells of what is selected instead of the pointer. */
export function useKeyWords(
  { selection, setHover }: CanvasPort,
  told: Told,
  stackWords: () => string,
) {
  const byKeys = useRef(false);
  const latest = useRef(stackWords);
  latest.current = stackWords;
  const last = selection.at(-1);
  const words = last === undefined ? null : stripLine(told, withEnclosing(told.scene, last));
  useEffect(() => {
    if (byKeys.current) setHover([words, latest.current()].filter(Boolean).join(' · ') || null);
  }, [words, setHover]);

  return {
    onFocus(event: FocusEvent<HTMLElement>) {
      if (!event.currentTarget.matches(':focus-visible')) return;
      byKeys.current = true;
      if (words !== null) setHover(words);
    },
    onKey() {
      byKeys.current = true;
    },
    onPointer() {
      byKeys.current = false;
    },
    onBlur() {
      if (byKeys.current) setHover(null);
      byKeys.current = false;
    },
  };
}
