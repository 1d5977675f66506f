import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { placedPotsOf } from '../../derive';
import { refTo } from '../../document/queries/refs';
import { useSession } from '../../store/context';
import { Button, Field } from '../../ui';
import { potByCode } from './potByCode';

/** Two pots by their codes, for whoever has them on a label rather than under the pointer. */
export function PairForm({ plan }: { plan: Plan }) {
  const select = useSession((s) => s.select);
  const [typed, setTyped] = useState({ a: '', b: '' });
  const [problem, setProblem] = useState<string | null>(null);
  const choose = () => {
    const placed = placedPotsOf(plan);
    const found = [potByCode(placed, typed.a), potByCode(placed, typed.b)] as const;
    for (const one of found) {
      if ('problem' in one) {
        setProblem(one.problem);
        return;
      }
    }
    const refs = found.flatMap((one) => ('id' in one ? refTo('pot', one.id) : []));
    const same = new Set(refs).size < refs.length;
    setProblem(same ? 'Two different pots are needed for an exchange.' : null);
    if (!same) select(refs);
  };
  return (
    <form
      className="pair-form"
      onSubmit={(event) => {
        event.preventDefault();
        choose();
      }}
    >
      {(['a', 'b'] as const).map((which) => (
        <Field
          key={which}
          label={which === 'a' ? 'Pot' : 'and pot'}
          problem={which === 'b' ? problem : null}
        >
          {(id, describedBy) => (
            <input
              id={id}
              className="input"
              type="text"
              autoComplete="off"
              maxLength={20}
              aria-describedby={describedBy}
              data-testid={`swap-${which}`}
              value={typed[which]}
              onChange={(event) => setTyped({ ...typed, [which]: event.target.value })}
            />
          )}
        </Field>
      ))}
      <Button type="submit" data-testid="swap-pair">
        Choose
      </Button>
    </form>
  );
}
