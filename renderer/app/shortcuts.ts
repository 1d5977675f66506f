import type { Stores } from '../store/context';
import type { FileActions } from './files/files';
import { runsOf } from '../document/runs';
import { goToPart } from './nextPart';
import { stageOrder } from './stages/stageOrder';

/** What the keys do on every stage, in words. */
export const windowKeys = [
  ['F1', 'what a word means, of the field, title or table that you are in; again: the glossary'],
  ['Alt 1 to Alt 8', 'go to a stage'],
  ['F6, Shift F6', 'the next part of the window, the one before'],
  ['Ctrl Z, Ctrl Shift Z', 'undo, redo'],
  ['Ctrl S, Ctrl Shift S', 'save, save as'],
  ['Ctrl N, Ctrl O', 'new plan, open a plan'],
  ['Ctrl F', 'find a pot by its code or its plant'],
  ['Alt Page down, Alt Page up', 'the next run, the one before'],
  ['Arrows in a number', 'one step up or down, with Shift ten'],
  ['Escape in a field', 'put back what was there'],
] as const;

/** What a key of the whole window does; undefined where it is none of ours. */
export function shortcut(
  event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'> & {
    defaultPrevented?: boolean;
  },
  stores: Stores,
  files: FileActions,
): (() => unknown) | undefined {
  const command = event.ctrlKey || event.metaKey;
  const plan = stores.plan.getState();
  if (command && !event.altKey) {
    switch (event.key.toLowerCase()) {
      case 's':
        return event.shiftKey ? () => files.saveAs() : () => files.save();
      case 'n':
        return () => files.newPlan();
      case 'o':
        return () => files.open();
      case 'z':
        return event.shiftKey ? plan.redo : plan.undo;
      case 'y':
        return plan.redo;
      case 'f':
        // A cell of the records finds by itself, once its value is taken.
        return event.defaultPrevented || !plan.plan ? undefined : () => find(stores);
      default:
        return undefined;
    }
  }
  if (event.key === 'F6') return () => goToPart(event.shiftKey ? -1 : 1);
  if (event.altKey && !command) {
    if (event.key === 'PageDown') return () => seeBeside(stores, 1);
    if (event.key === 'PageUp') return () => seeBeside(stores, -1);
    const stage = stageOrder[Number(event.key) - 1]?.stage;
    if (stage) return () => stores.session.getState().goTo(stage);
  }
  return undefined;
}

/** Looks for a pot: in the field of the records where they are open, else in a question of its own. */
function find({ session }: Stores): void {
  const field = document.getElementById('records-find');
  if (field) field.focus();
  else session.getState().findPot(true);
}

/** The run after the one that is shown, or before it; none beyond the last and the first. */
function seeBeside({ plan: store }: Stores, step: 1 | -1): void {
  const { plan, seeRun } = store.getState();
  if (!plan) return;
  const runs = runsOf(plan);
  const beside = runs[runs.findIndex(({ id }) => id === plan.runId) + step];
  // What is typed in a field belongs to the run that it was typed in.
  leaveField();
  if (beside) seeRun(beside.id);
}

function leaveField(): void {
  const { activeElement } = document;
  if (activeElement instanceof HTMLElement) activeElement.blur();
}

/** Ctrl+Z in a text field is the field's own. */
export function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && !['checkbox', 'radio'].includes(target.type))
  );
}
