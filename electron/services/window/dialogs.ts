import { existsSync } from 'node:fs';
import { access } from 'node:fs/promises';
import { dirname, extname, join } from 'node:path';
import type { BrowserWindow } from 'electron';
import type { Dialogs, FileFilter } from '../dialogs';
import { unlessTrouble } from '../files/fileTrouble';
import type { Runtime } from './runtime';

/**
 * The system's file dialogues, over the window where there is one. They begin in the folder of the file
 * that was chosen last, before that in the first of `folders` that is there: Electron would begin
 * among the downloads each time.
 */
export function fileDialogs(
  dialog: Pick<Runtime['dialog'], 'showOpenDialog' | 'showSaveDialog'>,
  over: () => BrowserWindow | null,
  folders: () => Promise<readonly string[]>,
): Dialogs {
  let last: string | null = null;
  const chosen = (path: string | undefined): string | null => {
    if (!path) return null;
    last = dirname(path);
    return path;
  };
  /** Empty: none is there. */
  const folder = async (): Promise<string> => {
    for (const one of [...(last === null ? [] : [last]), ...(await folders())]) {
      if ((await unlessTrouble(() => access(one).then(() => true))) ?? false) return one;
    }
    return '';
  };
  return {
    async openFile(filters) {
      const window = over();
      const at = await folder();
      const options = {
        properties: ['openFile' as const],
        filters,
        ...(at === '' ? {} : { defaultPath: at }),
      };
      const { canceled, filePaths } = window
        ? await dialog.showOpenDialog(window, options)
        : await dialog.showOpenDialog(options);
      return canceled ? null : chosen(filePaths[0]);
    },
    async saveFile(suggestedName, filters) {
      const window = over();
      const options = {
        defaultPath: join(await folder(), suggestedName),
        filters,
        // On Linux the system asks before it overwrites only where it is told to.
        properties: ['showOverwriteConfirmation' as const, 'createDirectory' as const],
      };
      const { canceled, filePath } = window
        ? await dialog.showSaveDialog(window, options)
        : await dialog.showSaveDialog(options);
      return chosen(canceled || filePath === '' ? undefined : withEnding(filePath, filters));
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
