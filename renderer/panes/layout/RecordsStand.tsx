import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { asNewRun, runListOf } from '../../derive';
import { nextTrialFrom } from '../../document/nextTrial';
import { sayStanding, standingRecords } from '../../document/queries';
import { hasSeveralRuns, runName } from '../../document/runs';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, Problem } from '../../ui';
import { StartNextTrial } from '../shared/StartNextTrial';
import { newSeed } from '../shared/newSeed';

/** Why a layout with records stays, and the ways on: a new run, or the next trial as its own plan. */
export function RecordsStand({ plan }: { plan: Plan }) {
  const standing = standingRecords(plan);
  if (!standing) return null;
  return (
    <div className="card" data-testid="records-stand">
      <p>
        {hasSeveralRuns(plan) ? runName(plan) : 'This plan'} holds {sayStanding(standing)} of its
        trial. The layout stays, because another draw would change the treatments under them.
      </p>
      <NewRun plan={plan} />
      <StartNextTrial make={() => nextTrialFrom(plan)} stage="layout">
        It takes over rack, light, water and design.
      </StartNextTrial>
    </div>
  );
}

/** The same trial once more, with a draw of its own; where a later run stands, the way there. */
function NewRun({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const seeRun = usePlanStore((s) => s.seeRun);
  const [problem, setProblem] = useState<string | null>(null);
  const runs = runListOf(plan);
  const next = runs[runs.findIndex(({ id }) => id === plan.runId) + 1];
  const begin = () => {
    const found = asNewRun(plan, newSeed(), new Date().toISOString());
    const done = found.ok ? dispatch(found.value, null) : found;
    setProblem(done.ok ? null : done.reason);
  };
  return (
    <>
      <div className="section-actions">
        {next ? (
          <Button tone="primary" onClick={() => seeRun(next.id)} data-testid="go-to-next-run">
            {`Go to ${next.name.toLowerCase()}`}
          </Button>
        ) : (
          <Button tone="primary" onClick={begin} data-testid="as-new-run">
            {`Draw it again as run ${runs.length + 1}`}
          </Button>
        )}
      </div>
      <p className="field-remark">
        With its own draw, plants and records; findings take all runs together.
      </p>
      <Problem text={problem} />
    </>
  );
}
