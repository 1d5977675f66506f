import { Field } from '../../ui';

/** A calendar date, ISO 8601; empty: none. */
export function DateField(props: {
  label: string;
  value: string;
  testId?: string;
  onCommit: (date: string) => void;
}) {
  return (
    <Field label={props.label}>
      {(id) => (
        <input
          id={id}
          type="date"
          className="input"
          data-testid={props.testId}
          value={props.value}
          max="9999-12-31"
          onChange={(event) => props.onCommit(event.target.value)}
        />
      )}
    </Field>
  );
}
