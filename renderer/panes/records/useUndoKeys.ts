import { redoLabel, undoLabel } from '../../store';
import { useStores } from '../../store/context';

/** Undoes or redoes one step and says which. */
export function useUndoKeys(say: (text: string | null) => void): (redo: boolean) => void {
  const { plan: store } = useStores();
  return (redo) => {
    const state = store.getState();
    const label = redo ? redoLabel(state) : undoLabel(state);
    if (redo) state.redo();
    else state.undo();
    say(label === null ? null : `${redo ? 'Done again' : 'Undone'}: ${label}.`);
  };
}
