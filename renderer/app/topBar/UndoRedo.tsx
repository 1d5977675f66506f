import { usePlanStore } from '../../store/context';
import { redoLabel, undoLabel } from '../../store/planStore';
import { Button } from '../../ui';

/** Whether there is a step to take back or to do again. */
export const useHasSteps = (): boolean =>
  usePlanStore((state) => Boolean(undoLabel(state) || redoLabel(state)));

/** Takes the last step back, and does it again; each says which step that is. */
export function UndoRedo() {
  const undo = usePlanStore((s) => s.undo);
  const redo = usePlanStore((s) => s.redo);
  const undoes = usePlanStore(undoLabel);
  const redoes = usePlanStore(redoLabel);
  return (
    <>
      <Button
        tone="quiet"
        disabled={!undoes}
        title={undoes ? `Undo: ${undoes} (Ctrl+Z)` : 'Nothing to undo'}
        onClick={undo}
        data-testid="undo"
      >
        Undo
      </Button>
      <Button
        tone="quiet"
        disabled={!redoes}
        title={redoes ? `Redo: ${redoes} (Ctrl+Shift+Z)` : 'Nothing to redo'}
        onClick={redo}
        data-testid="redo"
      >
        Redo
      </Button>
    </>
  );
}
