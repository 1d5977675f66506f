import { readNumberText, foundText, TypedField } from '../../ui';
import {
  fieldNumber,
  ownFrom,
  type Quantity,
  rounded,
  say,
  shownIn,
  unitOf,
  type UnitSystem,
} from '../../words';

/** A figure that may be unknown: an empty field is a value of its own. Kept in the plan's unit. */
export function OptionalNumberField(props: {
  label: string;
  /** `differ`: the selected things differ. */
  value: number | 'unknown' | 'differ';
  onCommit: (value: number | null) => void;
  quantity: Quantity;
  system: UnitSystem;
  highest: number;
  testId?: string;
}) {
  const { value, highest, quantity, system } = props;
  return (
    <TypedField<number | 'unknown'>
      label={props.label}
      value={value === 'differ' ? null : value}
      numeric
      unit={unitOf(quantity, system)}
      testId={props.testId}
      placeholder={value === 'differ' ? 'differ' : 'unknown'}
      show={(v) => (v === 'unknown' ? '' : fieldNumber(rounded(shownIn(quantity, system, v), 3)))}
      read={(text) => {
        if (text.trim() === '') return { ok: true, value: 'unknown' };
        const expected = `${foundText(text)}; a figure up to ${say(quantity, system, highest)}, or nothing, is expected.`;
        const read = readNumberText(text, 0.001);
        if (!read.ok) return { ok: false, expected: read.expected ?? expected };
        const number = rounded(ownFrom(quantity, system, read.value), 4);
        return number > 0 && number <= highest
          ? { ok: true, value: number }
          : { ok: false, expected };
      }}
      onCommit={(v) => props.onCommit(v === 'unknown' ? null : v)}
    />
  );
}
