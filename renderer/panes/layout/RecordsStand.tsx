import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { nextTrialFrom } from '../../document/nextTrial';
import { sayStanding, standingRecords } from '../../document/queries';
import { usePlanStore, useStores } from '../../store/context';
import { isUnsaved } from '../../store/planStore';
import { Button } from '../../ui';

/** Why a layout with records stays, and the way on: the next trial, as a plan of its own. */
export function RecordsStand({ plan }: { plan: Plan }) {
  const { plan: plans, session } = useStores();
  const unsaved = usePlanStore(isUnsaved);
  const [asked, setAsked] = useState(false);
  const standing = standingRecords(plan);
  if (!standing) return null;
  const start = () => {
    setAsked(true);
    if (unsaved) return;
    plans.getState().open(nextTrialFrom(plan), null);
    session.getState().reset();
    session.getState().goTo('layout');
  };
  return (
    <div className="card" data-testid="records-stand">
      <p>
        This plan holds {sayStanding(standing)} of its trial. The layout stays, because another draw
        would change the treatments under them.
      </p>
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
        <p className="field-remark">
          It takes over rack, light, water and design. This plan keeps its records.
        </p>
      )}
    </div>
  );
}
