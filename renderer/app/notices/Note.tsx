import {
  useEffect,
  useLayoutEffect,
  useRef,
  useState,
  type ReactNode,
  type RefObject,
} from 'react';
import type { ActPlace } from './actPlace';

const GAP = 8;

/** A sentence beside a place on the screen, and what can be done about it. */
export function Note(props: {
  place: ActPlace;
  text: string;
  onClose: () => void;
  /** Until it is closed, wherever one clicks. */
  stays?: boolean;
  children: ReactNode;
}) {
  const { place, text, onClose, stays = false } = props;
  const note = useRef<HTMLDivElement>(null);
  const [at, setAt] = useState<{ left: number; top: number } | null>(null);
  useLayoutEffect(() => {
    const box = note.current?.getBoundingClientRect();
    // Some controls tell beneath themselves why they were refused.
    const others = [...document.querySelectorAll('[role="alert"]')];
    const told = others.some((one) => one !== note.current && one.textContent?.includes(text));
    if (!box || told) return;
    const { left, top, bottom } = place;
    const below = bottom + GAP + box.height <= window.innerHeight - GAP;
    setAt({
      left: Math.max(GAP, Math.min(left, window.innerWidth - box.width - GAP)),
      top: Math.max(GAP, below ? bottom + GAP : top - GAP - box.height),
    });
  }, [place, text]);
  useKeysToNote(note, place, onClose);
  useClickElsewhere(note, stays ? null : onClose);
  return (
    <div
      ref={note}
      className="refusal-note"
      role="alert"
      data-testid="refusal"
      style={at ? { left: at.left, top: at.top } : { visibility: 'hidden', left: 0, top: 0 }}
    >
      <p>{text}</p>
      <div className="section-actions">{props.children}</div>
    </div>
  );
}

/** Tab goes from where the act was tried into the note and back; Escape closes. */
function useKeysToNote(
  note: RefObject<HTMLDivElement | null>,
  { element }: ActPlace,
  onClose: () => void,
): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const inside = note.current?.contains(document.activeElement) ?? false;
      if (event.key === 'Escape' && (inside || document.activeElement === element)) {
        event.stopPropagation();
        onClose();
      }
      if (event.key !== 'Tab') return;
      const buttons = [...(note.current?.querySelectorAll('button') ?? [])];
      const here = buttons.findIndex((button) => button === document.activeElement);
      const next = event.shiftKey ? buttons[here - 1] : buttons[here + 1];
      if (document.activeElement === element && !event.shiftKey) {
        event.preventDefault();
        event.stopPropagation();
        buttons[0]?.focus();
      } else if (inside && next) {
        event.preventDefault();
        next.focus();
      } else if (inside) {
        // On from where one was.
        element?.focus({ preventScroll: true });
        if (event.shiftKey) event.preventDefault();
      }
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, [note, element, onClose]);
}

function useClickElsewhere(
  note: RefObject<HTMLDivElement | null>,
  onPress: (() => void) | null,
): void {
  useEffect(() => {
    if (!onPress) return;
    const hear = ({ target }: PointerEvent) => {
      if (target instanceof Node && !note.current?.contains(target)) onPress();
    };
    window.addEventListener('pointerdown', hear, true);
    return () => window.removeEventListener('pointerdown', hear, true);
  }, [note, onPress]);
}
