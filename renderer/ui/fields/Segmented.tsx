import { useId } from 'react';

/** A choice among a few that exclude each other. */
export function Segmented<T extends string>(props: {
  label: string;
  value: T;
  options: readonly { value: T; label: string }[];
  onChoose: (value: T) => void;
  testId?: string;
}) {
  const name = useId();
  return (
    <fieldset className="segmented" data-testid={props.testId}>
      <legend className="visually-hidden">{props.label}</legend>
      {props.options.map((option) => (
        <label key={option.value} className={option.value === props.value ? 'is-chosen' : ''}>
          <input
            type="radio"
            className="visually-hidden"
            name={name}
            checked={option.value === props.value}
            onChange={() => props.onChoose(option.value)}
          />
          {option.label}
        </label>
      ))}
    </fieldset>
  );
}
