import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { wayOnLabels } from '../../../shared-types/wayOn';
import { usePlanStore, useSession, useStores } from '../../store/context';
import { Button } from '../../ui';
import { placeOfAct, watchPointer, type ActPlace } from './actPlace';
import { goOn } from './goOn';

/** Why an act was refused, where it was tried, with the way on. Escape closes it. */
export function RefusalNote({ onCorrect }: { onCorrect: () => void }) {
  const stores = useStores();
  const refusal = usePlanStore((s) => s.lastRefusal);
  const correctable = usePlanStore((s) => s.toCorrect !== null);
  const wayOn = usePlanStore((s) => s.wayOn);
  const stage = useSession((s) => s.stage);
  const [place, setPlace] = useState<ActPlace | null>(null);
  useEffect(() => watchPointer(), []);
  // Where it was tried is known only while it is being tried.
  useEffect(
    () =>
      stores.plan.subscribe((state, before) => {
        if (state.refusals !== before.refusals) setPlace(placeOfAct());
        if (state.lastRefusal === null) setPlace(null);
      }),
    [stores],
  );
  useEffect(() => setPlace(null), [stage]);
  if (refusal === null || place === null) return null;
  const close = () => {
    setPlace(null);
    place.element?.focus({ preventScroll: true });
  };
  const dialog = [...document.querySelectorAll('dialog[open]')].at(-1);
  return createPortal(
    <Note place={place} text={refusal} onClose={close}>
      {correctable ? (
        <Button
          data-testid="correct-here"
          onClick={() => {
            setPlace(null);
            onCorrect();
          }}
        >
          Correct it…
        </Button>
      ) : wayOn ? (
        <Button
          data-testid="way-on"
          onClick={() => {
            setPlace(null);
            goOn(wayOn, stores);
          }}
        >
          {wayOnLabels[wayOn]}
        </Button>
      ) : null}
      <Button tone="quiet" onClick={close}>
        Close
      </Button>
    </Note>,
    dialog ?? document.body,
  );
}

const GAP = 8;

function Note(props: {
  place: ActPlace;
  text: string;
  onClose: () => void;
  children: React.ReactNode;
}) {
  const { place, text, onClose } = props;
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

/** Tab goes from where the act was tried into the note and back; Escape closes; a click elsewhere too. */
function useKeysToNote(
  note: React.RefObject<HTMLDivElement | null>,
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
    const onPress = ({ target }: PointerEvent) => {
      if (target instanceof Node && !note.current?.contains(target)) onClose();
    };
    window.addEventListener('keydown', onKey, true);
    window.addEventListener('pointerdown', onPress, true);
    return () => {
      window.removeEventListener('keydown', onKey, true);
      window.removeEventListener('pointerdown', onPress, true);
    };
  }, [note, element, onClose]);
}
