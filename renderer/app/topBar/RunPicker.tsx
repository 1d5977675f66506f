import { runListOf, type RunLine } from '../../derive';
import { hasSeveralRuns } from '../../document/runs';
import { usePlanStore, useSession } from '../../store/context';
import { Button } from '../../ui';
import { capital } from '../../words';

/** Which run of the trial is shown; nothing where it is grown once. */
export function RunPicker() {
  const plan = usePlanStore((s) => s.plan);
  const seeRun = usePlanStore((s) => s.seeRun);
  const listRuns = useSession((s) => s.listRuns);
  if (!plan || !hasSeveralRuns(plan)) return null;
  const runs = runListOf(plan);
  return (
    <div className="topbar-group">
      <select
        className="input run-picker"
        aria-label="Run shown"
        title={`${datesOf(runs, plan.runId)}Alt+Page Down: the next run, Alt+Page Up: the one before`}
        data-testid="run-picker"
        value={plan.runId}
        onChange={(event) => seeRun(event.target.value)}
      >
        {runs.map((run) => (
          <option key={run.id} value={run.id}>
            {sayRun(run)}
          </option>
        ))}
      </select>
      <Button tone="quiet" data-testid="open-runs" onClick={() => listRuns(true)}>
        Runs…
      </Button>
    </div>
  );
}

/** `Run 2, planted`: short, as the bar has to hold it. */
const sayRun = ({ name, state }: RunLine): string =>
  [name, state].filter((word) => word !== '').join(', ');

function datesOf(runs: readonly RunLine[], runId: string): string {
  const dates = runs.find(({ id }) => id === runId)?.dates ?? '';
  return dates === '' ? '' : `${capital(dates)}. `;
}
