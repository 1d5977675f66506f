import { usePlanStore, useSession } from '../../store/context';
import { Button } from '../../ui';
import { labelOf } from '../stages/stageOrder';
import { steps } from './stepWords';

/** A first trial from the empty rack to the answer; each step goes to its stage. */
export function StepsPage() {
  const open = usePlanStore((s) => s.plan !== null);
  const goTo = useSession((s) => s.goTo);
  return (
    <ol className="help-steps">
      {steps.map(({ stage, does }) => (
        <li key={does}>
          <span>{does}</span>
          {open ? (
            <Button tone="quiet" onClick={() => goTo(stage)} title={`Go to ${labelOf(stage)}`}>
              {labelOf(stage)}
            </Button>
          ) : (
            <em>{labelOf(stage)}</em>
          )}
        </li>
      ))}
    </ol>
  );
}
