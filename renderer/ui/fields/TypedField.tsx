import { useEffect, useRef, useState, type KeyboardEvent, type ReactNode } from 'react';
import { Field } from './Field';

export interface TypedFieldProps<T> {
  label: string;
  /** null: the selected things differ. */
  value: T | null;
  show: (value: T) => string;
  /** The value read, or a sentence saying what is expected. */
  read: (text: string) => { ok: true; value: T } | { ok: false; expected: string };
  onCommit: (value: T) => void;
  /** Value after an arrow key; undefined: arrows do nothing. */
  step?: ((value: T, direction: 1 | -1, large: boolean) => T) | undefined;
  unit?: string | undefined;
  /** What stands after the input, such as a button to choose from. */
  after?: ReactNode;
  remark?: string | undefined;
  disabled?: boolean | undefined;
  numeric?: boolean | undefined;
  placeholder?: string | undefined;
  testId?: string | undefined;
}

/** A longer unit leaves no room for its figure in the narrowest field beside others. */
const SHORT_UNIT = 5;
const SHORT_TEXT = 12;

/**
 * A one-line field that commits on Enter or on leaving, and goes back on Escape. What cannot be
 * read stays in the field with a sentence under it; nothing is changed until it can.
 */
export function TypedField<T>(props: TypedFieldProps<T>) {
  const shown = props.value === null ? '' : props.show(props.value);
  const [draft, setDraft] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);

  useEffect(() => {
    setDraft(null);
    setProblem(null);
  }, [shown]);

  const commit = () => {
    if (draft === null || draft === shown) {
      setDraft(null);
      setProblem(null);
      return;
    }
    const read = props.read(draft);
    if (!read.ok) {
      setProblem(read.expected);
      return;
    }
    setDraft(null);
    setProblem(null);
    props.onCommit(read.value);
  };

  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Enter') {
      commit();
      input.current?.select();
    } else if (event.key === 'Escape') {
      if (draft !== null) event.stopPropagation();
      setDraft(null);
      setProblem(null);
    } else if (props.step && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      const current = draft === null ? props.value : readOr(props.read, draft, props.value);
      if (current === null) return;
      event.preventDefault();
      const next = props.step(current, event.key === 'ArrowUp' ? 1 : -1, event.shiftKey);
      const checked = props.read(props.show(next));
      if (checked.ok) props.onCommit(checked.value);
    }
  };

  return (
    <Field
      label={props.label}
      remark={props.remark}
      problem={problem}
      wide={(props.unit ?? '').length > SHORT_UNIT || (!props.numeric && shown.length > SHORT_TEXT)}
    >
      {(id, describedBy) => (
        <span className="input-with-unit">
          <input
            ref={input}
            id={id}
            className={props.numeric ? 'input input-numeric' : 'input'}
            type="text"
            inputMode={props.numeric ? 'decimal' : 'text'}
            autoComplete="off"
            spellCheck={false}
            aria-describedby={describedBy}
            aria-invalid={problem ? true : undefined}
            disabled={props.disabled}
            placeholder={props.value === null ? (props.placeholder ?? 'differ') : props.placeholder}
            data-testid={props.testId}
            value={draft ?? shown}
            onFocus={(event) => event.target.select()}
            onChange={(event) => setDraft(event.target.value)}
            onBlur={commit}
            onKeyDown={onKeyDown}
          />
          {props.unit ? <span className="unit">{props.unit}</span> : null}
          {props.after}
        </span>
      )}
    </Field>
  );
}

function readOr<T>(read: TypedFieldProps<T>['read'], text: string, otherwise: T | null): T | null {
  const result = read(text);
  return result.ok ? result.value : otherwise;
}
