import { Checkbox } from '../../ui';

/** Which of some things belong to something, each with its own box. */
export function CheckboxList(props: {
  legend: string;
  things: readonly { id: string; label: string }[];
  chosen: readonly string[];
  onChange: (ids: string[]) => void;
}) {
  const { legend, things, chosen, onChange } = props;
  return (
    <fieldset className="flood-trays">
      <legend>{legend}</legend>
      {things.map(({ id, label }) => (
        <Checkbox
          key={id}
          label={label}
          checked={chosen.includes(id)}
          onCommit={(on) => onChange(on ? [...chosen, id] : chosen.filter((t) => t !== id))}
        />
      ))}
    </fieldset>
  );
}
