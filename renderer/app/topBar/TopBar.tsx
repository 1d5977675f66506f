import { usePlanStore } from '../../store/context';
import { isUnsaved } from '../../store/planStore';
import { Button } from '../../ui';
import { useState } from 'react';
import type { FileActions } from '../files/files';
import { HelpMenu } from '../help/HelpMenu';
import { PlanMenu } from './PlanMenu';
import { PlanTitle } from './PlanTitle';
import { RunPicker } from './RunPicker';
import { FindPotDialog } from './FindPotDialog';
import { IncidentDialog } from './IncidentDialog';
import { RunsDialog } from './RunsDialog';
import { OptionsDialog } from './OptionsDialog';
import { UndoRedo } from './UndoRedo';
import { Wordmark } from '../Wordmark';

export function TopBar(props: { files: FileActions; say: (problem: string | null) => void }) {
  const { files, say } = props;
  const plan = usePlanStore((s) => s.plan);
  const unsaved = usePlanStore(isUnsaved);
  const fileRef = usePlanStore((s) => s.fileRef);
  const [options, setOptions] = useState(false);
  const [renaming, setRenaming] = useState(false);
  if (!plan) return null;
  return (
    <header className="topbar">
      <button
        type="button"
        className="button button-quiet wordmark"
        title="Close this plan and go to the start"
        aria-label="Evenrack: to the start"
        onClick={() => void files.close()}
      >
        <Wordmark /> <span className="wordmark-name">Evenrack</span>
      </button>
      <div className="topbar-group">
        <PlanMenu files={files} say={say} onRename={() => setRenaming(true)} />
        <Button tone="quiet" onClick={() => void files.open().then(say)}>
          Open…
        </Button>
        <Button tone="quiet" onClick={() => void files.save().then(say)} data-testid="save">
          Save
        </Button>
        <Button tone="quiet" onClick={() => void files.saveAs().then(say)}>
          Save as…
        </Button>
      </div>
      <h1 className="topbar-title" title={plan.title}>
        <PlanTitle title={plan.title} renaming={renaming} onRenaming={setRenaming} />
        <span>
          {fileRef ? fileRef.name : 'not in a file yet'}
          {unsaved ? ', unsaved changes' : ''}
        </span>
      </h1>
      <RunPicker />
      <RunsDialog />
      <FindPotDialog />
      <IncidentDialog />
      <div className="topbar-group">
        <UndoRedo />
        <Button tone="quiet" onClick={() => setOptions(true)}>
          Options…
        </Button>
        <HelpMenu />
      </div>
      {options ? <OptionsDialog onClose={() => setOptions(false)} /> : null}
    </header>
  );
}
