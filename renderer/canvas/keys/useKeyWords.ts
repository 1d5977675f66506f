import { useEffect, useRef } from 'react';
import type { FocusEvent } from 'react';
import { stripLine, withEnclosing, type Told } from '../plane/describe';
import type { CanvasPort } from '../canvasPort';

/** While the keyboard goes about, the strip tells of what is selected instead of the pointer. */
export function useKeyWords(
  { selection, setHover }: CanvasPort,
  told: Told,
  stackWords: () => string,
  drawing: string | null,
) {
  const byKeys = useRef(false);
  const latest = useRef(stackWords);
  latest.current = stackWords;
  const last = selection.at(-1);
  const selected = last === undefined ? null : stripLine(told, withEnclosing(told.scene, last));
  const words = drawing ?? selected;
  useEffect(() => {
    if (!byKeys.current) return;
    const stack = drawing === null ? latest.current() : '';
    setHover([words, stack].filter(Boolean).join(' · ') || null);
  }, [words, drawing, setHover]);

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
