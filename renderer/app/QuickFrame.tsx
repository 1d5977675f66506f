import { useEffect } from 'react';
import type { Host } from '../host/host';
import { QuickStart } from '../panes/quickStart';
import { JudgedSection } from '../panes/trial';
import { usePlanStore, useSession } from '../store/context';
import { HostContext } from '../store/hostContext';
import { Button } from '../ui';
import type { FileActions } from './files/files';
import { Guard } from './Guard';
import { HelpMenu } from './help/HelpMenu';
import { UndoRedo, useHasSteps } from './topBar/UndoRedo';
import { Wordmark } from './Wordmark';

/** The window while a first plan is made of a few answers: no stages yet, and a way to them. */
export function QuickFrame(props: { host: Host; files: FileActions; problem: string | null }) {
  const { files } = props;
  const refusal = usePlanStore((s) => s.lastRefusal);
  const goTo = useSession((s) => s.goTo);
  useEffect(() => () => void setTimeout(focusStage), []);
  const said = props.problem ?? refusal;
  return (
    <HostContext value={props.host}>
      <div className="app app-quick">
        <header className="topbar">
          <button
            type="button"
            className="button button-quiet wordmark"
            title="Close this plan and go to the start"
            onClick={() => void files.close()}
          >
            <Wordmark /> Evenrack
          </button>
          <h1 className="topbar-title quick-title">Quick start</h1>
          <History />
          <Button data-testid="quick-by-hand" onClick={() => goTo('rack')}>
            Draw it by hand instead
          </Button>
          <HelpMenu />
        </header>
        <Guard part="The quick start" files={files}>
          <QuickStart Verdict={JudgedSection} />
        </Guard>
        <footer className="strip">
          {said === null ? (
            <span>Everything can be changed later on the rack itself.</span>
          ) : (
            <span role="alert" className="strip-refusal">
              {said}
            </span>
          )}
        </footer>
      </div>
    </HostContext>
  );
}

/** Whoever leaves for the stages goes on at the stage that is shown. */
function focusStage(): void {
  document.querySelector<HTMLElement>('.rail [aria-current]')?.focus();
}

function History() {
  if (!useHasSteps()) return null;
  return (
    <div className="topbar-group">
      <UndoRedo />
    </div>
  );
}
