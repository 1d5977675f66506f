import type { Browser, Page } from '@playwright/test';
import type { EventPayload } from '../../../shared-types/window/ipc';
import type { EventName } from '../../../shared-types/window/ipcNames';
import { ElectronShell } from './electronShell';
import type { KeptWindow } from './keptWindow';
import { Shell } from './shell';

/** The app as a person has it on the desktop, in Electron or in a page with the real handlers. */
export interface Desktop {
  readonly page: Page;
  /** Where plans of the test may go; the app's own data lies in it too. */
  readonly folder: string;
  /** What the person answers in the next file dialogues, in order; null cancels. */
  willAnswer(...paths: (string | null)[]): Promise<void>;
  /** Sends the window a message, as the menu or the system would. */
  tell<E extends EventName>(event: E, payload: EventPayload<E>): Promise<void>;
  /** Ends the app without a chance to tidy up, and starts it again on the same data. */
  killAndRestart(): Promise<Page>;
  close(): Promise<void>;
}

export interface Surroundings {
  readonly folder: string;
  /** Is told of every page that the app opens. */
  watch(page: Page): void;
}

export async function startInBrowser(
  browser: Browser,
  window: KeptWindow,
  { folder, watch }: Surroundings,
): Promise<Desktop> {
  let shell: Shell;
  let page: Page;
  const start = async (): Promise<Page> => {
    shell = new Shell(folder, browser);
    page = shell.page = await window.start(shell, watch);
    return page;
  };
  await start();
  return {
    get page() {
      return page;
    },
    folder,
    willAnswer(...paths) {
      shell.answers.push(...paths);
      return Promise.resolve();
    },
    tell: (event, payload) => shell.tell(event, payload),
    async killAndRestart() {
      await window.kill();
      return start();
    },
    close: () => window.clear(),
  };
}

export async function startInElectron(executable: string, around: Surroundings): Promise<Desktop> {
  let shell = await ElectronShell.start(executable, around.folder);
  around.watch(shell.page);
  return {
    get page() {
      return shell.page;
    },
    folder: around.folder,
    willAnswer: (...paths) => shell.willAnswer(...paths),
    tell: (event, payload) => shell.tell(event, payload),
    async killAndRestart() {
      await shell.kill();
      shell = await ElectronShell.start(executable, around.folder);
      around.watch(shell.page);
      return shell.page;
    },
    close: () => shell.close(),
  };
}
