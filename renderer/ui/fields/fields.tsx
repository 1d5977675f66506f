import { useEffect, useState } from 'react';
import { Calendar } from './Calendar';
import { Field } from './Field';
import { TypedField } from './TypedField';
import { exampleDay, readTypedDay, sayDay } from '../../words';

export interface Common {
  label: string;
  remark?: string | undefined;
  disabled?: boolean | undefined;
  testId?: string | undefined;
}

export function TextField(
  props: Common & {
    value: string | null;
    onCommit: (value: string) => void;
    mayBeEmpty?: boolean | undefined;
    longest?: number | undefined;
    placeholder?: string | undefined;
  },
) {
  const longest = props.longest ?? 120;
  return (
    <TypedField<string>
      {...props}
      show={(value) => value}
      read={(text) => {
        const value = text.trim();
        if (value === '' && !props.mayBeEmpty)
          return { ok: false, expected: 'A text is expected.' };
        if (value.length > longest) {
          return { ok: false, expected: `At most ${longest} characters are expected.` };
        }
        return { ok: true, value };
      }}
    />
  );
}

/** A calendar date, kept as ISO 8601 has it; empty where it is not fixed yet. */
export function DateField(
  props: Common & { value: string | null; onCommit: (date: string | null) => void },
) {
  return (
    <TypedField<string>
      {...props}
      value={props.value ?? ''}
      placeholder={exampleDay()}
      show={sayDay}
      read={(text) => {
        if (text.trim() === '') return { ok: true, value: '' };
        const read = readTypedDay(text);
        return read.ok ? { ok: true, value: read.day } : read;
      }}
      onCommit={(date) => props.onCommit(date === '' ? null : date)}
      after={
        <Calendar
          label={props.label}
          value={props.value ?? ''}
          disabled={props.disabled}
          testId={props.testId && `${props.testId}-calendar`}
          onChoose={props.onCommit}
        />
      }
    />
  );
}

export function TextArea(
  props: Common & { value: string; onCommit: (value: string) => void; rows?: number | undefined },
) {
  const [draft, setDraft] = useState(props.value);
  useEffect(() => setDraft(props.value), [props.value]);
  return (
    <Field label={props.label} remark={props.remark}>
      {(id, describedBy) => (
        <textarea
          id={id}
          className="input"
          rows={props.rows ?? 3}
          aria-describedby={describedBy}
          disabled={props.disabled}
          data-testid={props.testId}
          value={draft}
          onChange={(event) => setDraft(event.target.value)}
          onBlur={() => {
            if (draft !== props.value) props.onCommit(draft);
          }}
        />
      )}
    </Field>
  );
}

/** As many signs as the narrowest field beside others shows of a choice. */
const SHORT_CHOICE = 12;

export function Select<T extends string>(
  props: Common & {
    value: T | null;
    options: readonly { value: T; label: string; disabled?: boolean }[];
    onCommit: (value: T) => void;
  },
) {
  const longest = Math.max(...props.options.map(({ label }) => label.length));
  return (
    <Field label={props.label} remark={props.remark} wide={longest > SHORT_CHOICE}>
      {(id, describedBy) => (
        <select
          id={id}
          className="input"
          aria-describedby={describedBy}
          disabled={props.disabled}
          data-testid={props.testId}
          value={props.value ?? ''}
          onChange={(event) => {
            const chosen = props.options.find((option) => option.value === event.target.value);
            if (chosen) props.onCommit(chosen.value);
          }}
        >
          {props.value === null ? <option value="">differ</option> : null}
          {props.options.map((option) => (
            <option key={option.value} value={option.value} disabled={option.disabled}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

export function Checkbox(
  props: Common & { checked: boolean | null; onCommit: (checked: boolean) => void },
) {
  return (
    <label className="checkbox">
      <input
        type="checkbox"
        ref={(element) => {
          if (element) element.indeterminate = props.checked === null;
        }}
        checked={props.checked ?? false}
        disabled={props.disabled}
        data-testid={props.testId}
        onChange={(event) => props.onCommit(event.target.checked)}
      />
      <span>{props.label}</span>
    </label>
  );
}
