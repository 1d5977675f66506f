import { useState, type ReactNode } from 'react';
import { Explained } from './terms/Explained';

/** `plain`: a line that unfolds; `soft`: the same, quieter; `card`: framed; `part`: of a whole pane. */
type FoldLook = 'plain' | 'soft' | 'card' | 'part';

const classOf: Record<FoldLook, string | undefined> = {
  plain: undefined,
  soft: 'fold',
  card: 'fold card fold-card',
  part: 'fold-part',
};

/** Something that is folded away until it is wanted. */
export function Fold(props: {
  title: ReactNode;
  /** What the folded line says besides, e.g. the figure most asked for. */
  said?: ReactNode;
  look?: FoldLook;
  className?: string;
  startsOpen?: boolean;
  /** Opens or closes it whenever this changes; in between the person does. */
  open?: boolean;
  onToggle?: (open: boolean) => void;
  testId?: string;
  /** Of a function nothing is computed before it is wanted, and nothing kept after. */
  children: ReactNode | (() => ReactNode);
}) {
  const { title, said, look = 'soft', children } = props;
  const [open, setOpen] = useState(props.open ?? props.startsOpen ?? false);
  const whole = look === 'part';
  const named = typeof title === 'string' ? <Explained text={title} /> : title;
  const body = typeof children !== 'function' ? children : open ? children() : null;
  return (
    <details
      className={props.className ?? classOf[look]}
      open={props.open ?? open}
      data-testid={props.testId}
      onToggle={(event) => {
        // Folds inside this one tell of themselves too.
        if (event.target !== event.currentTarget) return;
        setOpen(event.currentTarget.open);
        props.onToggle?.(event.currentTarget.open);
      }}
    >
      <summary>
        {whole ? <h3>{named}</h3> : named}
        {said ? (
          <>
            {' '}
            <span className={whole ? 'fold-said' : 'fold-soft'}>{said}</span>
          </>
        ) : null}
      </summary>
      {whole && body !== null ? <div className="fold-body">{body}</div> : body}
    </details>
  );
}
