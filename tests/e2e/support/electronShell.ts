import { join } from 'node:path';
import { _electron } from '@playwright/test';
import type { ElectronApplication, Page } from '@playwright/test';
import type { EventPayload } from '../../../shared-types/window/ipc';
import type { EventName } from '../../../shared-types/window/ipcNames';

const root = join(import.meta.dirname, '..', '..', '..');

/** The real desktop app; only the answers to its dialogues come from a list. */
export class ElectronShell {
  private constructor(
    readonly folder: string,
    private readonly app: ElectronApplication,
    readonly page: Page,
  ) {}

  static async start(executablePath: string, folder: string): Promise<ElectronShell> {
    const app = await _electron.launch({
      executablePath,
      args: [
        root,
        `--user-data-dir=${folder}`,
        ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      ],
    });
    await app.evaluate(({ dialog }) => {
      const answers: (string | null)[] = [];
      Object.assign(globalThis, { evenrackAnswers: answers });
      dialog.showOpenDialog = () => {
        const path = answers.shift() ?? null;
        return Promise.resolve({ canceled: path === null, filePaths: path === null ? [] : [path] });
      };
      dialog.showSaveDialog = () => {
        const path = answers.shift() ?? null;
        return Promise.resolve({ canceled: path === null, filePath: path ?? '' });
      };
      dialog.showMessageBox = () => Promise.resolve({ response: 1, checkboxChecked: false });
    });
    const page = await app.firstWindow();
    await page.setViewportSize({ width: 1440, height: 900 });
    return new ElectronShell(folder, app, page);
  }

  async willAnswer(...paths: (string | null)[]): Promise<void> {
    await this.app.evaluate((_electron, given) => {
      (globalThis as unknown as { evenrackAnswers: (string | null)[] }).evenrackAnswers.push(
        ...given,
      );
    }, paths);
  }

  async tell<E extends EventName>(event: E, payload: EventPayload<E>): Promise<void> {
    await this.app.evaluate(
      ({ BrowserWindow }, [name, value]) =>
        BrowserWindow.getAllWindows()[0]?.webContents.send(name, value),
      [event, payload] as [string, unknown],
    );
  }

  /** Ends the app as a power cut would. */
  async kill(): Promise<void> {
    const process = this.app.process();
    const gone = new Promise((resolve) => process.once('exit', resolve));
    process.kill('SIGKILL');
    await gone;
  }

  async close(): Promise<void> {
    await this.app.close();
  }
}
