import { TypedField } from '../../ui';

/** A number that may be unknown: an empty field is a value of its own. */
export function OptionalNumberField(props: {
  label: string;
  /** `differ`: the selected things differ. */
  value: number | 'unknown' | 'differ';
  onCommit: (value: number | null) => void;
  unit: string;
  highest: number;
  testId?: string;
}) {
  const { value, highest, unit } = props;
  return (
    <TypedField<number | 'unknown'>
      label={props.label}
      value={value === 'differ' ? null : value}
      numeric
      unit={unit}
      testId={props.testId}
      placeholder={value === 'differ' ? 'differ' : 'unknown'}
      show={(v) => (v === 'unknown' ? '' : String(v))}
      read={(text) => {
        if (text.trim() === '') return { ok: true, value: 'unknown' };
        const number = Number(text.trim().replace(',', '.'));
        return Number.isFinite(number) && number > 0 && number <= highest
          ? { ok: true, value: number }
          : { ok: false, expected: `A number up to ${highest} ${unit}, or nothing, is expected.` };
      }}
      onCommit={(v) => props.onCommit(v === 'unknown' ? null : v)}
    />
  );
}
