import { openBlinding } from '../document/commands';
import { blindedSince } from '../document/queries';
import { useDispatch, usePlanStore } from '../store/context';
import { Button, Dialog, Problem, ReasonForm, today } from '../ui';
import { useState } from 'react';
import { sayDay } from '../words';

/** On all stages while the trial is blinded; opening it is an act with a reason. */
export function BlindBanner() {
  const plan = usePlanStore((s) => s.plan);
  const since = plan && blindedSince(plan);
  const dispatch = useDispatch();
  const [asking, setAsking] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  if (!since) return null;
  return (
    <div className="blind-banner" role="status" data-testid="blind-banner">
      <span>
        <strong>Blinded since {sayDay(since)}.</strong> Treatments are shown as codes; findings
        wait.
      </span>
      <Button data-testid="open-blinding" onClick={() => setAsking(true)}>
        Open…
      </Button>
      {asking ? (
        <Dialog
          title="Open the blinding?"
          testId="blinding-dialog"
          onClose={() => setAsking(false)}
          actions={<Button onClick={() => setAsking(false)}>Stay blinded</Button>}
        >
          <p>
            From then on everybody sees the treatments. Day and reason are kept in the plan and
            printed in the report. It cannot be undone.
          </p>
          <Problem text={problem} />
          <ReasonForm
            label="Reason for opening"
            action="Open the blinding"
            testId="blinding-open"
            onGive={(reason) => {
              const done = dispatch(openBlinding, { date: today(), reason });
              if (done.ok) setAsking(false);
              else setProblem(done.reason);
            }}
          />
        </Dialog>
      ) : null}
    </div>
  );
}
