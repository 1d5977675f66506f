import { mkdtemp, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test as base } from '@playwright/test';
import type { Page } from '@playwright/test';
import { startInBrowser, startInElectron } from './desktop';
import type { Desktop } from './desktop';
import { KeptWindow } from './keptWindow';
import { program } from './program';

const { serveRenderer } = program;

export { expect };

interface Fixtures {
  /** A real folder, removed after the test. */
  folder: string;
  /** Errors that pages wrote to their console; any left at the end fails the test. */
  consoleErrors: string[];
  /** The app on the desktop. */
  desktop: Desktop;
  desktopPage: Page;
  /** The app in a plain browser. Tag such tests `@browser-host`. */
  browserPage: Page;
}

interface WorkerFixtures {
  /** Address of the built renderer, served with the policy of the desktop window. */
  appUrl: string;
  keptWindow: KeptWindow;
}

export interface Options {
  runtime: 'browser' | 'electron';
}

export const test = base.extend<Fixtures & Options, WorkerFixtures>({
  runtime: ['browser', { option: true }],

  appUrl: [
    // Playwright wants the first argument to be an object pattern.
    async ({}, use) => {
      const served = await serveRenderer(
        join(import.meta.dirname, '..', '..', '..', 'out', 'renderer'),
      );
      await use(served.url);
      await served.close();
    },
    { scope: 'worker' },
  ],

  keptWindow: [
    async ({ browser, appUrl }, use) => {
      const window = new KeptWindow(browser, appUrl);
      await use(window);
      await window.kill();
    },
    { scope: 'worker' },
  ],

  folder: async ({}, use) => {
    const folder = await realpath(await mkdtemp(join(tmpdir(), 'evenrack-e2e-')));
    await use(folder);
    await rm(folder, { recursive: true, force: true, maxRetries: 3 });
  },

  consoleErrors: async ({}, use) => {
    const errors: string[] = [];
    await use(errors);
    expect(errors, 'a page wrote errors to its console').toEqual([]);
  },

  desktop: async ({ browser, keptWindow, folder, consoleErrors, runtime }, use) => {
    const watch = (page: Page): void => listen(page, consoleErrors);
    const electron = process.env['EVENRACK_ELECTRON'];
    if (runtime === 'electron' && !electron) throw new Error('EVENRACK_ELECTRON: names no runtime');
    const desktop =
      runtime === 'electron' && electron
        ? await startInElectron(electron, { folder, watch })
        : await startInBrowser(browser, keptWindow, { folder, watch });
    await use(desktop);
    await desktop.close();
  },

  desktopPage: async ({ desktop }, use) => use(desktop.page),

  browserPage: async ({ page, appUrl, consoleErrors }, use) => {
    listen(page, consoleErrors);
    await page.goto(appUrl);
    await use(page);
  },
});

// The preview of a printed page may run no script; the test's own start-up script is refused there.
const refusedInPreview = "Blocked script execution in 'about:srcdoc'";

function listen(page: Page, errors: string[]): void {
  page.on('console', (message) => {
    if (message.text().startsWith(refusedInPreview)) return;
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.stack ?? error.message));
}
