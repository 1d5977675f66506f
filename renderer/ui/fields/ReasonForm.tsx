import { useState } from 'react';
import { Button } from '../Button';
import { Field } from './Field';

/** A deed that needs a reason: nothing happens on leaving the field, only by the button or Enter. */
export function ReasonForm(props: {
  label: string;
  action: string;
  testId: string;
  onGive: (reason: string) => void;
}) {
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <form
      className="reason-form"
      onSubmit={(event) => {
        event.preventDefault();
        const reason = text.trim();
        setProblem(reason === '' ? 'Write the reason first; it is kept with the plan.' : null);
        if (reason === '') return;
        setText('');
        props.onGive(reason);
      }}
    >
      <Field label={props.label} problem={problem}>
        {(id, describedBy) => (
          <input
            id={id}
            className="input"
            type="text"
            autoComplete="off"
            maxLength={2000}
            aria-describedby={describedBy}
            aria-invalid={problem ? true : undefined}
            data-testid={`${props.testId}-reason`}
            value={text}
            onChange={(event) => setText(event.target.value)}
          />
        )}
      </Field>
      <Button type="submit" data-testid={props.testId}>
        {props.action}
      </Button>
    </form>
  );
}
