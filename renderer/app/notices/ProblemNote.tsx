import { useEffect, useState } from 'react';
import { createPortal } from 'react-dom';
import { Button } from '../../ui';
import { placeOfAct, wasPressed, type ActPlace } from './actPlace';
import { Note } from './Note';

/** What went wrong with a file or late, beside what was pressed, or under the plan's title. */
export function ProblemNote({ text, onRead }: { text: string; onRead: () => void }) {
  const [place, setPlace] = useState<ActPlace | null>(null);
  useEffect(() => setPlace(placeOfProblem()), [text]);
  if (!place) return null;
  const close = () => {
    onRead();
    place.element?.focus({ preventScroll: true });
  };
  return createPortal(
    <Note place={place} text={text} onClose={close} stays>
      <Button tone="quiet" onClick={close}>
        Close
      </Button>
    </Note>,
    document.body,
  );
}

/** It comes later than what began it: only a control that is pressed and waits is sure to have. */
function placeOfProblem(): ActPlace {
  const act = placeOfAct();
  // A stage of the rail asks nothing of a file, and must not be covered.
  if (act.element?.matches('button:not(.rail *)') && wasPressed(act.element)) return act;
  const title = document.querySelector('.topbar-title')?.getBoundingClientRect();
  const [left, top, bottom] = title ? [title.left, title.top, title.bottom] : [24, 0, 44];
  return { left, top, bottom, element: act.element };
}
