import { useState, type ReactNode } from 'react';

/** A part of the pane that is folded away until it is wanted; nothing inside is computed before. */
export function Fold(props: {
  title: string;
  /** What the folded line says, e.g. the figure most asked for. */
  said?: string | undefined;
  startsOpen?: boolean;
  testId: string;
  children: () => ReactNode;
}) {
  const [open, setOpen] = useState(props.startsOpen ?? false);
  return (
    <details
      className="light-fold"
      open={open}
      data-testid={props.testId}
      onToggle={(event) => {
        // Folds inside this one tell of themselves too.
        if (event.target === event.currentTarget) setOpen(event.currentTarget.open);
      }}
    >
      <summary>
        <h3>{props.title}</h3>
        {props.said ? <span className="light-fold-said">{props.said}</span> : null}
      </summary>
      {open ? <div className="light-fold-body">{props.children()}</div> : null}
    </details>
  );
}
