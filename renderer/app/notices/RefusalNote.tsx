import { useEffect, useState } from 'react';
import { createPortal } from 'react-dom';
import { wayOnLabels } from '../../../shared-types/window/wayOn';
import { usePlanStore, useSession, useStores } from '../../store/context';
import { Button } from '../../ui';
import { placeOfAct, watchPointer, type ActPlace } from './actPlace';
import { goOn } from './goOn';
import { Note } from './Note';

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
