import { foundText, readNumberText, TypedField } from '../../ui';
import { fieldNumber, rounded, trimmed } from '../../words';

/** A figure that a level may set; an empty field leaves it as the rack is drawn. */
export function DrawnField(props: {
  label: string;
  value: number | undefined;
  onCommit: (value: number | undefined) => void;
  unit?: string;
  /** How much of the value's own unit the unit shown is; 1 without. */
  size?: number;
  lowest: number;
  highest: number;
  whole?: boolean;
  testId?: string;
}) {
  const { value, unit, size = 1, lowest, highest, whole = false } = props;
  const from = `${trimmed(lowest / size, 2)} to ${trimmed(highest / size, 2)}`;
  return (
    <TypedField<number | 'drawn'>
      label={props.label}
      value={value ?? 'drawn'}
      numeric
      unit={unit}
      testId={props.testId}
      placeholder="as drawn"
      show={(v) => (v === 'drawn' ? '' : fieldNumber(rounded(v / size, 3)))}
      read={(text) => {
        if (text.trim() === '') return { ok: true, value: 'drawn' };
        const wanted = whole ? 'a whole number' : 'a number';
        const expected = `${foundText(text)}; ${wanted} from ${from}, or nothing, is expected.`;
        const read = readNumberText(text, 0.001);
        if (!read.ok) return { ok: false, expected: read.expected ?? expected };
        const number = rounded(read.value * size, 6);
        const fits = number >= lowest && number <= highest && (!whole || Number.isInteger(number));
        return fits ? { ok: true, value: number } : { ok: false, expected };
      }}
      onCommit={(v) => props.onCommit(v === 'drawn' ? undefined : v)}
    />
  );
}
