import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { GlossaryTerm } from '../../words';
import { TERM_TIP } from './Explained';
import { TermWords } from './TermWords';
import { shownTerm, termsAbout, type TermShown } from './termsAbout';

/** Long enough that nothing flickers up under a hand on its way. */
const AFTER_MS = 400;
/** Long enough to move onto the explanation itself. */
const LINGERS_MS = 250;

/**
 * Explains the term that is pointed at, that has the focus, or that F1 asks about. F1 once more, or
 * where there is no term, asks for the glossary. It takes no focus and holds nothing up.
 */
export function TermTip(props: { onAsk: (about: readonly GlossaryTerm[]) => void }) {
  const [shown, setShown] = useState<TermShown | null>(null);
  const tip = useRef<HTMLDivElement>(null);
  useAsked(shown, setShown, props.onAsk, tip);
  useLayoutEffect(() => {
    const box = tip.current;
    if (!box) return;
    if (shown === null) {
      box.hidePopover();
      return;
    }
    box.showPopover();
    place(box, shown.at.getBoundingClientRect());
  }, [shown]);
  return (
    <div ref={tip} id={TERM_TIP} className="term-tip" role="tooltip" popover="manual">
      {shown ? <TermWords term={shown.term} /> : null}
    </div>
  );
}

/** Under the term, or above it where there is no room; always within the window. */
function place(box: HTMLElement, at: DOMRect): void {
  const gap = 6;
  const { offsetWidth: width, offsetHeight: height } = box;
  const left = Math.max(gap, Math.min(at.left, window.innerWidth - width - gap));
  const below = at.bottom + gap;
  const fits = below + height <= window.innerHeight;
  box.style.left = `${left}px`;
  box.style.top = `${fits ? below : Math.max(gap, at.top - gap - height)}px`;
}

/** Listens on the page: terms are plain marks, wherever they stand. */
function useAsked(
  shown: TermShown | null,
  show: (shown: TermShown | null) => void,
  ask: (about: readonly GlossaryTerm[]) => void,
  tip: { readonly current: HTMLElement | null },
): void {
  // What F1 explains stays, however the page moves under a hand that rests.
  const asked = useRef<Element | null>(null);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const later = (next: TermShown | null, ms: number) => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        asked.current = null;
        show(next);
      }, ms);
    };
    const onOver = ({ target }: Event) => {
      const term = shownTerm(target);
      const onTip = target instanceof Node && tip.current?.contains(target) === true;
      if (term) later(term, AFTER_MS);
      else if (onTip) clearTimeout(timer);
      else if (!asked.current) later(null, LINGERS_MS);
    };
    const onFocus = ({ target }: Event) => {
      clearTimeout(timer);
      asked.current = null;
      const byKey = target instanceof HTMLElement && target.matches(':focus-visible');
      show(byKey ? shownTerm(target) : null);
    };
    const close = () => {
      clearTimeout(timer);
      asked.current = null;
      show(null);
    };
    // What is about to be shown finds its place by itself.
    const onScroll = ({ target }: Event) => {
      if (target instanceof Node && tip.current?.contains(target)) return;
      show(asked.current && shown ? { ...shown } : null);
    };
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'F1') {
        event.preventDefault();
        clearTimeout(timer);
        const here = shown?.at ?? document.activeElement;
        const about = termsAbout(here);
        const [first] = about;
        if (first && shown?.term !== first.term) {
          asked.current = here;
          show(first);
        } else {
          asked.current = null;
          show(null);
          ask(about.map(({ term }) => term));
        }
      } else if (event.key === 'Escape' && shown) {
        // What lies beneath keeps its own Escape.
        event.stopPropagation();
        event.preventDefault();
        close();
      } else if (event.key !== 'Shift') close();
    };
    // Before anything on the page: a dialog keeps keys to itself.
    document.addEventListener('keydown', onKey, true);
    document.addEventListener('pointerover', onOver);
    document.addEventListener('focusin', onFocus);
    document.addEventListener('pointerdown', close, true);
    document.addEventListener('scroll', onScroll, true);
    return () => {
      clearTimeout(timer);
      document.removeEventListener('keydown', onKey, true);
      document.removeEventListener('pointerover', onOver);
      document.removeEventListener('focusin', onFocus);
      document.removeEventListener('pointerdown', close, true);
      document.removeEventListener('scroll', onScroll, true);
    };
  }, [shown, show, ask, tip]);
}
