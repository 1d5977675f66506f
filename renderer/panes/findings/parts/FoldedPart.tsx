import type { ReactNode } from 'react';
import { useKept } from '../../../store/context';
import { Fold } from '../../../ui';

/**
 * A part of the findings below the answers, folded, with a line of what it says. What was unfolded
 * stays so while other findings come in, and when the stage is left.
 */
export function FoldedPart(props: {
  title: string;
  said: ReactNode;
  name: string;
  startsOpen?: boolean;
  children: ReactNode;
}) {
  const { name, title, said, children } = props;
  const [open, setOpen] = useKept({
    name: `findings: ${name} unfolded`,
    initial: props.startsOpen ?? false,
  });
  return (
    <Fold
      look="part"
      title={title}
      said={said}
      testId={name}
      open={open}
      onToggle={(now) => {
        if (now !== open) setOpen(now);
      }}
    >
      {children}
    </Fold>
  );
}
