import { useEffect, useState } from 'react';
import { Field } from './Field';
import { readLength, foundText } from './length';
import { readNumberText } from './readNumberText';
import { TypedField } from './TypedField';
import { formatLength, lengthNumber, lengthUnit, rounded, type UnitSystem } from '../../words';

interface Common {
  label: string;
  remark?: string | undefined;
  disabled?: boolean | undefined;
  testId?: string | undefined;
}

export function NumberField(
  props: Common & {
    value: number | null;
    onCommit: (value: number) => void;
    unit?: string | undefined;
    lowest?: number | undefined;
    highest?: number | undefined;
    decimals?: number | undefined;
    step?: number | undefined;
    whole?: boolean | undefined;
    placeholder?: string | undefined;
    /** Why a number in range cannot be taken; null: it can. */
    refuse?: ((value: number) => string | null) | undefined;
  },
) {
  const { lowest = -Infinity, highest = Infinity, whole = false } = props;
  const decimals = whole ? 0 : (props.decimals ?? 3);
  const step = props.step ?? 1;
  return (
    <TypedField<number>
      {...props}
      numeric
      show={(value) => String(rounded(value, decimals))}
      read={(text) => {
        const read = readNumberText(text, 10 ** -decimals);
        const expected = `${whole ? 'a whole number' : 'a number'}${range(lowest, highest)} is expected.`;
        if (!read.ok)
          return { ok: false, expected: read.expected ?? `${foundText(text)}; ${expected}` };
        const { value } = read;
        const fits = value >= lowest && value <= highest && (!whole || Number.isInteger(value));
        const why = fits ? (props.refuse?.(value) ?? null) : `${foundText(text)}; ${expected}`;
        return why === null ? read : { ok: false, expected: why };
      }}
      step={(value, direction, large) => {
        const next = value + direction * step * (large ? 10 : 1);
        return Math.min(highest, Math.max(lowest, rounded(next, decimals)));
      }}
    />
  );
}

/** What lengths are usual, so that an unusual one can be remarked on: `Shelves`, 200 to 3000 mm. */
export interface UsualLength {
  of: string;
  fromMm: number;
  toMm: number;
}

export function LengthField(
  props: Common & {
    valueMm: number | null;
    system: UnitSystem;
    onCommit: (mm: number) => void;
    lowestMm?: number | undefined;
    highestMm?: number | undefined;
    usual?: UsualLength | undefined;
  },
) {
  const { system, lowestMm = -20_000, highestMm = 20_000 } = props;
  const stepMm = system === 'metric' ? 1 : 25.4 / 16;
  return (
    <TypedField<number>
      label={props.label}
      remark={unusual(props.valueMm, props.usual, system) ?? props.remark}
      disabled={props.disabled}
      testId={props.testId}
      value={props.valueMm}
      numeric
      unit={lengthUnit(system)}
      show={(mm) => lengthNumber(mm, system)}
      read={(text) => {
        const read = readLength(text, system);
        if (!read.ok) return read;
        const { mm } = read;
        if (mm < lowestMm || mm > highestMm) {
          const from = lengthNumber(lowestMm, system);
          const to = lengthNumber(highestMm, system);
          return {
            ok: false,
            expected: `${foundText(text)}; a length from ${from} to ${to} ${lengthUnit(system)} is expected.`,
          };
        }
        return { ok: true, value: mm };
      }}
      step={(mm, direction, large) =>
        Math.min(highestMm, Math.max(lowestMm, mm + direction * stepMm * (large ? 10 : 1)))
      }
      onCommit={props.onCommit}
    />
  );
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

/** A calendar date, ISO 8601; empty where it is not fixed yet. */
export function DateField(
  props: Common & { value: string | null; onCommit: (date: string | null) => void },
) {
  return (
    <TypedField<string>
      {...props}
      value={props.value ?? ''}
      placeholder="year-month-day"
      show={(value) => value}
      read={(text) => {
        const date = text.trim();
        const ok = date === '' || isDate(date);
        return ok
          ? { ok: true, value: date }
          : { ok: false, expected: 'A date such as 2026-03-02 is expected.' };
      }}
      onCommit={(date) => props.onCommit(date === '' ? null : date)}
    />
  );
}

function isDate(text: string): boolean {
  if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text)) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
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

export function Select<T extends string>(
  props: Common & {
    value: T | null;
    options: readonly { value: T; label: string; disabled?: boolean }[];
    onCommit: (value: T) => void;
  },
) {
  return (
    <Field label={props.label} remark={props.remark}>
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

/** Nothing is refused that can be; it is remarked on as long as it stands. */
function unusual(
  mm: number | null,
  usual: UsualLength | undefined,
  system: UnitSystem,
): string | undefined {
  if (mm === null || !usual || (mm >= usual.fromMm && mm <= usual.toMm)) return undefined;
  const [from, to] = [lengthNumber(usual.fromMm, system), formatLength(usual.toMm, system)];
  return `Is ${formatLength(mm, system)} right? ${usual.of}: mostly ${from} to ${to}.`;
}

function range(lowest: number, highest: number): string {
  if (Number.isFinite(lowest) && Number.isFinite(highest)) return ` from ${lowest} to ${highest}`;
  if (Number.isFinite(lowest)) return ` from ${lowest} up`;
  if (Number.isFinite(highest)) return ` up to ${highest}`;
  return '';
}
