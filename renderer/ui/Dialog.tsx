import { useLayoutEffect, useRef, useState, type ReactNode } from 'react';
import { Button } from './Button';

/**
 * A modal question or form. Escape calls `onClose`. The focus begins at the first field, or where
 * there is none at the answer that loses nothing; keys stay inside.
 */
export function Dialog(props: {
  title: string;
  children: ReactNode;
  actions: ReactNode;
  onClose: () => void;
  wide?: boolean;
  testId?: string;
}) {
  const element = useRef<HTMLDialogElement>(null);
  // Closed while it still stands in the page: the keyboard then goes back to where it came from.
  useLayoutEffect(() => {
    const dialog = element.current;
    if (dialog && !dialog.open) dialog.showModal();
    if (dialog) firstIn(dialog)?.focus();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      ref={element}
      className={props.wide ? 'dialog dialog-wide' : 'dialog'}
      aria-label={props.title}
      data-testid={props.testId}
      // What lies behind hears none of its keys, in the tree of components or in the page.
      onKeyUp={(event) => event.stopPropagation()}
      onKeyDown={(event) => {
        event.stopPropagation();
        // A key still held down from before must not answer.
        if (event.repeat && event.target instanceof HTMLButtonElement) event.preventDefault();
      }}
      onCancel={(event) => {
        event.preventDefault();
        props.onClose();
      }}
    >
      <h2>{props.title}</h2>
      <div className="dialog-body">{props.children}</div>
      <div className="dialog-actions">{props.actions}</div>
    </dialog>
  );
}

function firstIn(dialog: HTMLDialogElement): HTMLElement | null {
  const field = ':is(input, select, textarea):not(:disabled)';
  const answers = dialog.querySelectorAll<HTMLElement>(
    '.dialog-actions .button:not(.button-danger, :disabled)',
  );
  return dialog.querySelector<HTMLElement>(`.dialog-body ${field}`) ?? [...answers].at(-1) ?? null;
}

/** Whether a dialog waits for an answer; keys and menus of the window then do nothing. */
export function isDialogOpen(): boolean {
  return document.querySelector('dialog[open]') !== null;
}

/** The answer that loses something: it asks once more, in its own words, before it is given. */
export function LosingAnswer(props: {
  children: string;
  /** What the second press does, e.g. `Press again to throw it away`. */
  again: string;
  onGive: () => void;
  testId?: string;
}) {
  const [asked, setAsked] = useState(false);
  return (
    <Button
      tone="danger"
      data-testid={props.testId}
      aria-live="polite"
      onBlur={() => setAsked(false)}
      onClick={(event) => {
        // The second click of a double click is no second thought.
        if (event.detail > 1) return;
        setAsked(!asked);
        if (asked) props.onGive();
      }}
    >
      {asked ? props.again : props.children}
    </Button>
  );
}
