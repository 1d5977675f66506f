import type { FileActions } from './files';

/** What is needed of what was dropped; a browser gives more. */
interface Dropped {
  readonly types: readonly string[];
  readonly files: ArrayLike<Pick<File, 'name' | 'text'>>;
  dropEffect: string;
}

type DragLike = Event & { readonly dataTransfer: Dropped | null };

/**
 * Opens a plan that is dropped on the window, as a copy: of a dropped file a page learns no place to
 * save it to. A browser would leave the app for the file. `mayOpen`: no dialog stands. Returns the end
 * of it.
 */
export function openDropped(
  window: EventTarget,
  files: Pick<FileActions, 'openCopy'>,
  mayOpen: () => boolean,
  say: (problem: string | null) => void,
): () => void {
  const dropped = (event: Event): Dropped | null => {
    const { dataTransfer } = event as DragLike;
    if (!dataTransfer?.types.includes('Files')) return null;
    event.preventDefault();
    return dataTransfer;
  };
  const over = (event: Event): void => {
    const what = dropped(event);
    if (what) what.dropEffect = mayOpen() ? 'copy' : 'none';
  };
  const drop = (event: Event): void => {
    const what = dropped(event);
    if (!what || !mayOpen()) return;
    const [file, another] = Array.from(what.files);
    if (another) say('One plan can be open at a time: drop one file alone.');
    else if (file) void files.openCopy(file.name, () => file.text()).then(say);
  };
  window.addEventListener('dragover', over);
  window.addEventListener('drop', drop);
  return () => {
    window.removeEventListener('dragover', over);
    window.removeEventListener('drop', drop);
  };
}
