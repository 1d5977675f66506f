import { useEffect, type RefObject } from 'react';
import { flushSync } from 'react-dom';
import { isDialogOpen } from '../../ui';
import { endsLine, withKey, withLineEnd, type KeyTrail } from './grid/keyTrail';

/**
 * Listens for a label that is scanned while the cursor is in no text field. `onScan` says whether
 * the text was a label; then its Enter presses nothing else. `onFigure`: a figure is typed while
 * nothing has the focus, as after scrolling away from the cursor; it may put the focus into a cell,
 * which goes on with the same trail.
 */
export function useScanner(
  trail: RefObject<KeyTrail>,
  onScan: (text: string) => boolean,
  onFigure: () => void,
): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (isDialogOpen() || writesText(event.target)) return;
      if (endsLine(event)) {
        const end = withLineEnd(trail.current, event.timeStamp);
        trail.current = end.trail;
        if (end.burst === '' || !onScan(end.burst)) return;
        event.preventDefault();
        event.stopPropagation();
      } else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
        trail.current = withKey(trail.current, event.key, event.timeStamp);
        // At once, so that the figure lands in the cell.
        if (event.target === document.body && /^[0-9.,]$/.test(event.key)) flushSync(onFigure);
      }
    };
    window.addEventListener('keydown', onKey, { capture: true });
    return () => window.removeEventListener('keydown', onKey, { capture: true });
  }, [trail, onScan, onFigure]);
}

function writesText(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && !['checkbox', 'radio'].includes(target.type))
  );
}
