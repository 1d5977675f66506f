import type { Browser, BrowserContext, Page } from '@playwright/test';
import type { EventPayload } from '../../../shared-types/ipc';
import type { EventName } from '../../../shared-types/ipcNames';
import { ElectronShell } from './electronShell';
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
  readonly browser: Browser;
  readonly url: string;
  readonly folder: string;
  /** Is told of every page that the app opens. */
  watch(page: Page): void;
}

export async function startInBrowser(around: Surroundings): Promise<Desktop> {
  let context: BrowserContext;
  let shell: Shell;
  let page: Page;
  const start = async (): Promise<Page> => {
    context = await around.browser.newContext({ viewport: { width: 1440, height: 900 } });
    shell = new Shell(around.folder, context);
    page = await context.newPage();
    around.watch(page);
    await shell.attach(page);
    await page.goto(around.url);
    // A key pressed before the first screen is up reaches nobody. The host's own page has no screen.
    await page.locator('#root > *, body:not(:has(#root))').first().waitFor({ state: 'attached' });
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
    return page;
  };
  await start();
  return {
    get page() {
      return page;
    },
    folder: around.folder,
    willAnswer(...paths) {
      shell.answers.push(...paths);
      return Promise.resolve();
    },
    tell: (event, payload) => shell.tell(event, payload),
    async killAndRestart() {
      // Closing a context runs no unload handlers.
      await context.close();
      return start();
    },
    close: () => context.close(),
  };
}

export async function startInElectron(
  executable: string,
  around: Omit<Surroundings, 'browser' | 'url'>,
): Promise<Desktop> {
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
