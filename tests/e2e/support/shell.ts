import { join } from 'node:path';
import type { Browser, Page } from '@playwright/test';
import { build } from 'esbuild';
import type { ShellAnswer, EventPayload } from '../../../shared-types/window/ipc';
import type { Channel, EventName } from '../../../shared-types/window/ipcNames';
import { program } from './program';

const {
  answer,
  channelNames,
  createShellApi,
  ErrorLog,
  OpenFiles,
  Recents,
  Recovery,
  printHeaders,
} = program;

const printed = 'https://page.invalid/';

/**
 * The desktop shell without Electron: its real handlers on a real folder. Dialogues are answered
 * from a list, and pages are printed by the browser that runs the test.
 */
export class Shell {
  /** What the person answers in the next file dialogues, in order: a path, or null to cancel. */
  readonly answers: (string | null)[] = [];
  /** Documents for which the system's print dialogue was opened. */
  readonly printed: string[] = [];
  unsaved = false;
  /** The window that it sends messages to. */
  page: Page | null = null;
  private readonly api: ReturnType<typeof createShellApi>;

  constructor(
    readonly folder: string,
    private readonly browser: Browser,
  ) {
    const next = (): Promise<string | null> => {
      const given = this.answers.shift();
      if (given === undefined)
        throw new Error('a file dialogue opened that the test did not expect');
      return Promise.resolve(given);
    };
    const now = (): Date => new Date();
    this.api = createShellApi({
      dialogs: { openFile: next, saveFile: next },
      recents: new Recents(join(folder, 'recent-plans.json'), now),
      recovery: new Recovery(join(folder, 'recovery'), now, join(folder, 'recovery.json')),
      openFiles: new OpenFiles(join(folder, 'open')),
      printer: {
        print: (html) => Promise.resolve(void this.printed.push(html)),
        pdf: (html) => this.pdf(html),
      },
      setUnsaved: (unsaved) => void (this.unsaved = unsaved),
      errors: new ErrorLog(join(folder, 'errors.log'), now),
      dataFolder: folder,
      onListening: () => undefined,
      onWorkKept: () => undefined,
    });
  }

  /** What the shell answers to a call of the page. */
  answer(channel: Channel, request: unknown): Promise<ShellAnswer> {
    if (!channelNames.includes(channel)) throw new Error(`no channel is named ${channel}`);
    return answer(this.api.handlers, channel, request);
  }

  /** Sends the window a message, as the menu or the system would. */
  async tell<E extends EventName>(event: E, payload: EventPayload<E>): Promise<void> {
    await this.page?.evaluate(([name, value]) => window.evenrackTell(name, value), [
      event,
      payload,
    ] as [string, unknown]);
  }

  private async pdf(html: string): Promise<Uint8Array> {
    const context = await this.browser.newContext({ javaScriptEnabled: false });
    try {
      const page = await context.newPage();
      await page.route(printed, (route) => route.fulfill({ body: html, headers: printHeaders }));
      await page.goto(printed);
      return await page.pdf({
        preferCSSPageSize: true,
        printBackground: true,
        tagged: true,
        outline: true,
      });
    } finally {
      await context.close();
    }
  }
}

let script: Promise<string> | undefined;

/** The bridge; it is in a page before the page's own scripts start. */
export function bridgeScript(): Promise<string> {
  script ??= build({
    entryPoints: [join(import.meta.dirname, 'bridgeInPage.ts')],
    bundle: true,
    write: false,
    format: 'iife',
    platform: 'browser',
    logLevel: 'error',
  }).then(({ outputFiles }) => outputFiles[0]?.text ?? '');
  return script;
}
