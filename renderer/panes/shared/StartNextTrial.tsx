import { useState, type ReactNode } from 'react';
import type { Stage } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { usePlanStore, useStores } from '../../store/context';
import { isUnsaved } from '../../store/planStore';
import { Button } from '../../ui';

/** Opens the next trial in place of this plan, once this one is saved. */
export function StartNextTrial(props: {
  make: () => Plan;
  /** Where the next trial begins. */
  stage: Stage;
  /** What it takes over. */
  children: ReactNode;
}) {
  const { plan: plans, session } = useStores();
  const unsaved = usePlanStore(isUnsaved);
  const [asked, setAsked] = useState(false);
  const start = () => {
    setAsked(true);
    if (unsaved) return;
    plans.getState().open(props.make(), null);
    session.getState().reset();
    session.getState().goTo(props.stage);
  };
  return (
    <>
      <div className="section-actions">
        <Button onClick={start} data-testid="next-trial">
          Start the next trial from this plan
        </Button>
      </div>
      {asked && unsaved ? (
        <p className="field-problem" role="alert">
          Save this plan first; the next trial opens in its place.
        </p>
      ) : (
        <p className="field-remark">{props.children}</p>
      )}
    </>
  );
}
