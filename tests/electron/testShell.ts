import { join } from 'node:path';
import type { Dialogs } from '../../electron/services/dialogs';
import { createShellApi } from '../../electron/services/handlers';
import type { ShellApi } from '../../electron/services/handlers';
import { ErrorLog } from '../../electron/services/errorLog';
import { OpenFiles } from '../../electron/services/openFiles';
import { Recents } from '../../electron/services/recents';
import { Recovery } from '../../electron/services/recovery';

export interface TestShell extends ShellApi {
  /** Answers that the person gives in the next dialogues, in order; null cancels. */
  readonly answers: (string | null)[];
  readonly printed: string[];
  readonly unsaved: boolean[];
}

/** The shell's handlers over a real folder, with a person who answers from a list. */
export function testShell(dataFolder: string): TestShell {
  const answers: (string | null)[] = [];
  const printed: string[] = [];
  const unsaved: boolean[] = [];
  const next = (): Promise<string | null> => {
    const answer = answers.shift();
    if (answer === undefined) throw new Error('a dialogue was opened that nobody expected');
    return Promise.resolve(answer);
  };
  const dialogs: Dialogs = { openFile: next, saveFile: next };
  const now = (): Date => new Date('2026-03-31T12:00:00Z');
  const shell = createShellApi({
    dialogs,
    recents: new Recents(join(dataFolder, 'recent-plans.json'), now),
    recovery: new Recovery(join(dataFolder, 'recovery'), now, join(dataFolder, 'recovery.json')),
    openFiles: new OpenFiles(join(dataFolder, 'open')),
    printer: {
      print: (html) => Promise.resolve(void printed.push(html)),
      pdf: (html) => Promise.resolve(new TextEncoder().encode(`pdf of ${html}`)),
    },
    setUnsaved: (value) => void unsaved.push(value),
    errors: new ErrorLog(join(dataFolder, 'errors.log'), now),
    dataFolder,
    onListening: () => undefined,
    onWorkKept: () => undefined,
  });
  return { ...shell, answers, printed, unsaved };
}
