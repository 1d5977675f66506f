import { useEffect, useRef, useState, type KeyboardEvent } from 'react';
import { helpEntries, helpLabels } from '../../../shared-types/help';
import { useStores } from '../../store/context';
import { Button } from '../../ui';
import { openHelp } from './openHelp';

/** The help, in the window's bar and on the start screen. */
export function HelpMenu() {
  const { session } = useStores();
  const [open, setOpen] = useState(false);
  const frame = useRef<HTMLDivElement>(null);
  const button = () => frame.current?.querySelector<HTMLElement>('[aria-haspopup]');
  useEffect(() => {
    if (!open) return undefined;
    frame.current?.querySelector<HTMLElement>('[role="menuitem"]')?.focus();
    const leave = ({ target }: Event) => {
      if (target instanceof Node && !frame.current?.contains(target)) setOpen(false);
    };
    document.addEventListener('pointerdown', leave);
    document.addEventListener('focusin', leave);
    return () => {
      document.removeEventListener('pointerdown', leave);
      document.removeEventListener('focusin', leave);
    };
  }, [open]);
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const items = [...event.currentTarget.querySelectorAll<HTMLElement>('[role="menuitem"]')];
    const at = items.findIndex((item) => item === document.activeElement);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: -1 }[event.key];
    if (next !== undefined) {
      event.preventDefault();
      items.at(next % items.length)?.focus();
    } else if (event.key === 'Escape') {
      event.stopPropagation();
      setOpen(false);
      button()?.focus();
    }
  };
  return (
    <div className="help-menu" ref={frame}>
      <Button
        tone="quiet"
        aria-haspopup="menu"
        aria-expanded={open}
        title="Help. F1: what a word means"
        data-testid="help"
        onClick={() => setOpen(!open)}
      >
        Help
      </Button>
      {open ? (
        <div className="help-entries" role="menu" aria-label="Help" onKeyDown={onKeyDown}>
          {helpEntries.map((entry) => (
            <button
              key={entry}
              type="button"
              role="menuitem"
              tabIndex={-1}
              className="button button-quiet"
              data-testid={entry}
              onClick={() => {
                // The help gives the keyboard back to where it was called from.
                button()?.focus();
                setOpen(false);
                openHelp(entry, session.getState());
              }}
            >
              {helpLabels[entry]}
            </button>
          ))}
        </div>
      ) : null}
    </div>
  );
}
