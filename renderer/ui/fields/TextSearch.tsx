import { Field } from './Field';

/** Words to look for, heard at every key. */
export function TextSearch(props: {
  label: string;
  value: string;
  onChange: (text: string) => void;
  testId?: string;
}) {
  return (
    <Field label={props.label}>
      {(id) => (
        <input
          id={id}
          className="input"
          type="search"
          autoComplete="off"
          spellCheck={false}
          data-testid={props.testId}
          value={props.value}
          onChange={(event) => props.onChange(event.target.value)}
        />
      )}
    </Field>
  );
}
