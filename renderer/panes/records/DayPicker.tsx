import { Field } from '../../ui';

/** A calendar date, ISO 8601; empty: none. */
export function DayPicker(props: {
  label: string;
  value: string;
  testId?: string;
  remark?: string | undefined;
  onCommit: (date: string) => void;
}) {
  return (
    <Field label={props.label} remark={props.remark}>
      {(id, describedBy) => (
        <input
          id={id}
          type="date"
          className="input"
          aria-describedby={describedBy}
          data-testid={props.testId}
          value={props.value}
          max="9999-12-31"
          onChange={(event) => props.onCommit(event.target.value)}
        />
      )}
    </Field>
  );
}
