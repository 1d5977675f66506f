import type { BrowserWindow } from 'electron';
import type { Dialogs } from '../dialogs';
import type { Runtime } from './runtime';

/** The system's file dialogues, over the window where there is one. */
export function fileDialogs(
  dialog: Pick<Runtime['dialog'], 'showOpenDialog' | 'showSaveDialog'>,
  over: () => BrowserWindow | null,
): Dialogs {
  return {
    async openFile(filters) {
      const window = over();
      const options = { properties: ['openFile' as const], filters };
      const { canceled, filePaths } = window
        ? await dialog.showOpenDialog(window, options)
        : await dialog.showOpenDialog(options);
      return canceled ? null : (filePaths[0] ?? null);
    },
    async saveFile(suggestedName, filters) {
      const window = over();
      const options = {
        defaultPath: suggestedName,
        filters,
        // On Linux the system asks before it overwrites only where it is told to.
        properties: ['showOverwriteConfirmation' as const, 'createDirectory' as const],
      };
      const { canceled, filePath } = window
        ? await dialog.showSaveDialog(window, options)
        : await dialog.showSaveDialog(options);
      return canceled || filePath === '' ? null : filePath;
    },
  };
}
