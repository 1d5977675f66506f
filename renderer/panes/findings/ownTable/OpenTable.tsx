import { useState } from 'react';
import { useHostOffer } from '../../../store/hostContext';
import { Button } from '../../../ui';
import { reasonOf } from '../../../words';
import { TableDialog } from './TableDialog';

/** A trial that was not planned here, from its table. */
export function OpenTable() {
  const host = useHostOffer();
  const [opened, setOpened] = useState<{ name: string; text: string } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <>
      <Button
        tone="quiet"
        data-testid="open-table"
        onClick={() => {
          host.open('table').then(
            (found) => {
              setProblem(null);
              if (found) setOpened({ name: found.ref.name, text: found.text });
            },
            (error: unknown) => setProblem(reasonOf(error)),
          );
        }}
      >
        Another table…
      </Button>
      {problem ? <span className="field-problem">{problem}</span> : null}
      {opened ? <TableDialog {...opened} onClose={() => setOpened(null)} /> : null}
    </>
  );
}
