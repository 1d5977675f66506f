import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { furtherRun, runListOf, swappableFactors, type RunLine } from '../../derive';
import { planRuns, removeRun } from '../../document/commands';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, Dialog, Problem, Select, Table } from '../../ui';

/** The runs of the trial: which is shown, a further one, one taken back. */
export function RunsDialog() {
  const listed = useSession((s) => s.runsListed);
  const listRuns = useSession((s) => s.listRuns);
  return listed ? <RunsList onClose={() => listRuns(false)} /> : null;
}

function RunsList({ onClose }: { onClose: () => void }) {
  const plan = usePlanStore((s) => s.plan);
  const seeRun = usePlanStore((s) => s.seeRun);
  const dispatch = useDispatch();
  const [problem, setProblem] = useState<string | null>(null);
  if (!plan) return null;
  const runs = runListOf(plan);
  const shown = runs.find(({ id }) => id === plan.runId);
  const remove = (run: RunLine) => {
    const done = dispatch(removeRun, { runId: run.id });
    setProblem(done.ok ? null : done.reason);
  };
  return (
    <Dialog
      title="Runs of this trial"
      testId="runs-dialog"
      onClose={onClose}
      actions={
        <>
          {shown && runs.length > 1 ? (
            <Button data-testid="remove-run" onClick={() => remove(shown)}>
              {`Remove ${shown.name.toLowerCase()}`}
            </Button>
          ) : null}
          <Button tone="primary" onClick={onClose}>
            Done
          </Button>
        </>
      }
    >
      <p className="field-remark">
        Each run has its own dates, draw, plants and records. A planted run keeps the rack it is
        grown on; later changes act on later runs.
      </p>
      <Table
        caption="Runs of this trial"
        testId="run-list"
        rows={runs}
        rowKey={(run) => run.id}
        isMarked={(run) => run.id === plan.runId}
        columns={[
          { key: 'name', head: 'Run', cell: (run) => run.name },
          { key: 'state', head: 'State', cell: (run) => run.state },
          { key: 'dates', head: 'Dates', cell: (run) => run.dates || 'not set' },
          {
            key: 'show',
            head: '',
            cell: (run) =>
              run.id === plan.runId ? (
                'shown'
              ) : (
                <Button data-testid={`show-${run.id}`} onClick={() => seeRun(run.id)}>
                  {`Show ${run.name.toLowerCase()}`}
                </Button>
              ),
          },
        ]}
      />
      <FurtherRun plan={plan} say={setProblem} />
      <Problem text={problem} />
    </Dialog>
  );
}

const DRAWN = 'drawn';

/** Where earlier runs swapped levels, a further one goes on doing so unless it is told otherwise. */
function FurtherRun(props: { plan: Plan; say: (problem: string | null) => void }) {
  const { plan, say } = props;
  const dispatch = useDispatch();
  const usual = furtherRun(plan);
  const [chosen, setChosen] = useState<string | null>(null);
  const levels = chosen ?? usual.swappedFactorId ?? DRAWN;
  const swappable = swappableFactors(plan);
  const further = () => {
    const swappedFactorId = levels === DRAWN ? null : levels;
    const done = dispatch(planRuns, { ...usual, swappedFactorId });
    say(done.ok ? null : done.reason);
  };
  return (
    <>
      {swappable.length > 0 ? (
        <Select
          label="Levels in a further run"
          testId="further-levels"
          value={levels}
          options={[
            { value: DRAWN, label: 'drawn without regard to earlier runs' },
            ...swappable.map(({ id, name }) => ({
              value: id,
              label: `${name}: every level moved on by one unit`,
            })),
          ]}
          onCommit={setChosen}
        />
      ) : null}
      <div className="section-actions">
        <Button data-testid="further-run" onClick={further}>
          Plan a further run
        </Button>
      </div>
    </>
  );
}
