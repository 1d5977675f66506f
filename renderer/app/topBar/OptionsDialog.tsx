import { papers } from '../../../shared-types/paper';
import { editNotes, renamePlan, setLengthDisplay } from '../../document/commands';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, Dialog, Segmented, TextArea, TextField } from '../../ui';
import { WrittenAs } from './WrittenAs';

/** The plan's title, notes and units, and what is chosen on this computer. */
export function OptionsDialog(props: { onClose: () => void }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  const theme = useSession((s) => s.theme);
  const setTheme = useSession((s) => s.setTheme);
  const textSize = useSession((s) => s.textSize);
  const setTextSize = useSession((s) => s.setTextSize);
  const paper = useSession((s) => s.paper);
  const setPaper = useSession((s) => s.setPaper);
  if (!plan) return null;
  return (
    <Dialog
      title="Options"
      onClose={props.onClose}
      actions={
        <Button tone="primary" onClick={props.onClose}>
          Done
        </Button>
      }
    >
      <TextField
        label="Title of the plan"
        value={plan.title}
        onCommit={(title) => dispatch(renamePlan, { title })}
      />
      <TextArea
        label="Notes on this plan, printed in the report"
        rows={4}
        testId="plan-notes"
        value={plan.notes}
        onCommit={(notes) => dispatch(editNotes, { notes })}
      />
      <Choice
        label="Units of this plan"
        value={plan.display.lengths}
        options={[
          { value: 'metric', label: 'Metric' },
          { value: 'imperial', label: 'Imperial' },
        ]}
        onChoose={(lengths) => dispatch(setLengthDisplay, { lengths })}
      />
      <h3 className="options-head">On this computer</h3>
      <Choice
        label="Appearance"
        value={theme}
        options={[
          { value: 'system', label: 'As the system' },
          { value: 'light', label: 'Light' },
          { value: 'dark', label: 'Dark' },
        ]}
        onChoose={setTheme}
      />
      <Choice
        label="Size of words"
        value={textSize}
        options={[
          { value: 'usual', label: 'Usual' },
          { value: 'large', label: 'Large' },
          { value: 'larger', label: 'Larger' },
        ]}
        onChoose={setTextSize}
      />
      <Choice
        label="Paper"
        value={paper}
        options={papers.map((value) => ({ value, label: value }))}
        onChoose={setPaper}
      />
      <WrittenAs />
    </Dialog>
  );
}

/** A choice with its label in sight. */
function Choice<T extends string>(props: Parameters<typeof Segmented<T>>[0]) {
  return (
    <div className="options-choice">
      <span aria-hidden>{props.label}</span>
      <Segmented {...props} />
    </div>
  );
}
