import { existsSync } from 'node:fs';
import { extname } from 'node:path';
import type { BrowserWindow } from 'electron';
import type { Dialogs, FileFilter } from '../dialogs';
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
      return canceled || filePath === '' ? null : withEnding(filePath, filters);
    },
  };
}

/**
 * A name that was typed without an ending, with the one of its kind: dialogues of Linux add none, and
 * no double click would open it. Where a file of that name is there already, nobody has agreed to
 * lose it, and the name stays as it was typed.
 */
function withEnding(path: string, [kind]: readonly FileFilter[]): string {
  const [ending = '*'] = kind?.extensions ?? [];
  if (extname(path) !== '' || ending === '*') return path;
  const whole = `${path}.${ending}`;
  return existsSync(whole) ? path : whole;
}
