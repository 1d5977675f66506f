import { useLayoutEffect, useRef, type ClipboardEvent, type KeyboardEvent } from 'react';

const PASSED = 'Passed over: no value yet';

/** One value of one pot. What is being typed belongs to the grid, so that scrolling keeps it. */
export function ValueCell(props: {
  place: string;
  label: string;
  shown: string;
  /** What is typed and not yet taken; null: nothing. */
  draft: string | null;
  /** Why the typed text cannot be taken. */
  problem: string | null;
  question: string | undefined;
  /** It was passed over and has no value yet. */
  passed: boolean;
  /** The one stop of the Tab key; inside, arrows and Enter move. */
  isStop: boolean;
  onFocus: () => void;
  onDraft: (text: string) => void;
  onLeave: () => void;
  onPaste: (event: ClipboardEvent<HTMLInputElement>) => void;
  onKeyDown: (event: KeyboardEvent<HTMLInputElement>) => void;
}) {
  const input = useRef<HTMLInputElement>(null);
  const typing = props.draft !== null;
  // A value that is put back, undone or pasted under the cursor is replaced by what is typed next.
  useLayoutEffect(() => {
    if (!typing && document.activeElement === input.current) input.current?.select();
  }, [typing, props.shown]);
  return (
    <input
      ref={input}
      className={`input input-numeric records-cell${props.question ? ' is-odd' : ''}${props.passed ? ' is-passed' : ''}`}
      data-cell={props.place}
      aria-label={props.label}
      aria-invalid={props.problem ? true : undefined}
      title={props.problem ?? props.question ?? (props.passed ? PASSED : undefined)}
      inputMode="decimal"
      autoComplete="off"
      spellCheck={false}
      tabIndex={props.isStop ? 0 : -1}
      value={props.draft ?? props.shown}
      onFocus={(event) => {
        event.target.select();
        props.onFocus();
      }}
      // A click within the focused cell, too; a part marked by dragging stays marked.
      onMouseUp={(event) => {
        const { selectionStart, selectionEnd, value } = event.currentTarget;
        const marked = (selectionEnd ?? 0) - (selectionStart ?? 0);
        if (typing || (marked > 0 && marked < value.length)) return;
        event.preventDefault();
        event.currentTarget.select();
      }}
      onChange={(event) => props.onDraft(event.target.value)}
      onBlur={props.onLeave}
      onPaste={props.onPaste}
      onKeyDown={props.onKeyDown}
    />
  );
}
