import { useState } from 'react';
import { renamePlan } from '../../document/commands';
import { useDispatch } from '../../store/context';

/** The plan's title: pressed, it can be typed over. */
export function PlanTitle(props: {
  title: string;
  renaming: boolean;
  onRenaming: (renaming: boolean) => void;
}) {
  const { title, renaming, onRenaming } = props;
  if (renaming) return <TitleField title={title} onDone={() => onRenaming(false)} />;
  return (
    <strong>
      <button
        type="button"
        className="plan-title"
        title="Rename this plan"
        data-testid="plan-title"
        onClick={() => onRenaming(true)}
      >
        {title}
      </button>
    </strong>
  );
}

function TitleField({ title, onDone }: { title: string; onDone: () => void }) {
  const dispatch = useDispatch();
  const [text, setText] = useState(title);
  const take = () => {
    if (text.trim() !== '' && text.trim() !== title) dispatch(renamePlan, { title: text });
    onDone();
  };
  return (
    <input
      className="input plan-title-field"
      aria-label="Title of the plan"
      maxLength={120}
      // Asked for by the title that it takes the place of.
      autoFocus
      data-testid="plan-title-field"
      value={text}
      onFocus={(event) => event.target.select()}
      onChange={(event) => setText(event.target.value)}
      onBlur={take}
      onKeyDown={(event) => {
        if (event.key === 'Enter') take();
        else if (event.key === 'Escape') {
          event.stopPropagation();
          onDone();
        }
      }}
    />
  );
}
