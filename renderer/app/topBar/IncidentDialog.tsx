import { IncidentForm } from '../../panes/records';
import { usePlanStore, useSession } from '../../store/context';
import { Button, Dialog } from '../../ui';

/** An incident written down from any stage, about what is selected on the rack. */
export function IncidentDialog() {
  const open = useSession((s) => s.logging);
  const logIncident = useSession((s) => s.logIncident);
  const plan = usePlanStore((s) => s.plan);
  if (!open || !plan) return null;
  const close = () => logIncident(false);
  return (
    <Dialog
      title="Write an incident down"
      testId="incident-dialog"
      onClose={close}
      actions={<Button onClick={close}>Cancel</Button>}
    >
      <IncidentForm plan={plan} onDone={close} />
    </Dialog>
  );
}
