import { useState, type ReactNode } from 'react';
import { usePlanStore, useSession, useStores } from '../store/context';
import { Button } from '../ui';
import { ErrorBoundary } from '../ui/ErrorBoundary';
import type { Plan } from '../../shared-types/plan';
import { writePlan } from '../document/open';
import { detailsOf } from './details';
import type { FileActions } from './files/files';

/**
 * One part of the window. Where it fails, the others stay usable, the work can be saved or taken
 * back by a step, and the details can be copied.
 */
export function Guard(props: { part: string; files?: FileActions; children: ReactNode }) {
  const plan = usePlanStore((s) => s.plan);
  const preview = usePlanStore((s) => s.preview);
  const stage = useSession((s) => s.stage);
  return (
    <ErrorBoundary
      resetOn={[plan, preview, stage]}
      fallback={(error, again) => (
        <Broken part={props.part} error={error} again={again} files={props.files} />
      )}
    >
      {props.children}
    </ErrorBoundary>
  );
}

const textOf = (plan: Plan | null): string => (plan ? writePlan(plan) : '');

function Broken(props: {
  part: string;
  error: Error;
  again: () => void;
  files: FileActions | undefined;
}) {
  const { part, error, again, files } = props;
  const stores = useStores();
  const open = usePlanStore((s) => s.plan !== null);
  const undoes = usePlanStore((s) => s.history.past.length > 0);
  const [said, setSaid] = useState<string | null>(null);
  const copy = (text: string) =>
    navigator.clipboard.writeText(text).then(
      () => setSaid('Copied.'),
      () => setSaid('Nothing was copied: the clipboard cannot be reached.'),
    );
  return (
    <div className="broken-part" role="alert" data-testid="broken-part">
      <h3>{part} cannot be shown</h3>
      <p>The program met an error here. {open ? 'Your plan is whole and still open.' : ''}</p>
      <p className="field-remark">{error.message}</p>
      <div className="section-actions">
        {open && files ? (
          <Button tone="primary" onClick={() => void files.saveAs().then(setSaid)}>
            Save the plan as…
          </Button>
        ) : null}
        {open && !files ? (
          <Button tone="primary" onClick={() => void copy(textOf(stores.plan.getState().plan))}>
            Copy the plan as text
          </Button>
        ) : null}
        <Button disabled={!undoes} onClick={stores.plan.getState().undo}>
          Undo the last step
        </Button>
        <Button onClick={again}>Try again</Button>
        <Button tone="quiet" onClick={() => void copy(`Evenrack, ${part}\n${detailsOf(error)}`)}>
          Copy the details
        </Button>
      </div>
      {said ? <p role="status">{said}</p> : null}
    </div>
  );
}
