import { useEffect, useRef, useState, type KeyboardEvent } from 'react';
import { Button } from './Button';

export interface MenuEntry {
  /** Names it for tests, too. */
  id: string;
  label: string;
  onChoose: () => void;
}

/** A button that opens a short list of what can be done. The keyboard comes back to the button. */
export function MenuButton(props: {
  label: string;
  title?: string;
  testId: string;
  /** Against which edge of the button the list is laid. */
  edge?: 'left' | 'right';
  entries: readonly MenuEntry[];
}) {
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
    <div className="menu" ref={frame}>
      <Button
        tone="quiet"
        aria-haspopup="menu"
        aria-expanded={open}
        title={props.title}
        data-testid={props.testId}
        onClick={() => setOpen(!open)}
      >
        {props.label}
      </Button>
      {open ? (
        <div
          className={props.edge === 'left' ? 'menu-entries menu-entries-left' : 'menu-entries'}
          role="menu"
          aria-label={props.label}
          onKeyDown={onKeyDown}
        >
          {props.entries.map(({ id, label, onChoose }) => (
            <button
              key={id}
              type="button"
              role="menuitem"
              tabIndex={-1}
              className="button button-quiet"
              data-testid={id}
              onClick={() => {
                button()?.focus();
                setOpen(false);
                onChoose();
              }}
            >
              {label}
            </button>
          ))}
        </div>
      ) : null}
    </div>
  );
}
