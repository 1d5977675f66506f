import { usePlanStore } from '../../store/context';
import { useFindings } from '../../store/findingsContext';
import { Button, EmptyState } from '../../ui';

/** Progress of the findings under way, with a way to stop them; after a stop, to go on. */
export function FindingsProgress() {
  const plan = usePlanStore((s) => s.plan);
  const copyId = usePlanStore((s) => s.copyId);
  const { progress, stopped } = {
    progress: useFindings((s) => s.progress),
    stopped: useFindings((s) => s.stopped),
  };
  const stop = useFindings((s) => s.stop);
  const askAgain = useFindings((s) => s.askAgain);
  if (stopped) {
    return (
      <Button
        tone="primary"
        data-testid="findings-again"
        onClick={() => {
          if (plan) askAgain(plan, copyId);
        }}
      >
        Compute the findings
      </Button>
    );
  }
  return (
    <>
      <progress
        {...(progress === null ? {} : { value: progress })}
        max={1}
        aria-label="Progress of the findings"
      />
      <Button onClick={stop} data-testid="findings-stop">
        Stop
      </Button>
    </>
  );
}

/** In place of findings that there are none of yet. */
export function Computing() {
  const stopped = useFindings((s) => s.stopped);
  return (
    <div data-testid="findings-computing">
      <EmptyState
        title={stopped ? 'Stopped: no findings yet' : 'Computing the findings…'}
        actions={<FindingsProgress />}
      >
        {stopped ? 'Nothing was lost: the records stand.' : 'Many pots take a minute.'}
      </EmptyState>
    </div>
  );
}

/** Above findings of the plan as it was before. */
export function Earlier() {
  const stopped = useFindings((s) => s.stopped);
  return (
    <div className="findings-earlier" data-testid="findings-earlier">
      <p role="status">
        {stopped
          ? 'Out of date: the plan has changed, and computing was stopped. Cannot be saved.'
          : 'Out of date: the plan has changed. Being computed again; cannot be saved yet.'}
      </p>
      <FindingsProgress />
    </div>
  );
}
