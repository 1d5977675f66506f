import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { WebContents } from 'electron';
import { printPolicy } from './assets';
import type { PagePrinter } from './pages';
import { FileTrouble } from './files/fileTrouble';

/** A window that nobody sees, as far as printing needs it. */
export interface HiddenWindow {
  readonly webContents: Pick<WebContents, 'print' | 'printToPDF'>;
  loadURL(url: string): Promise<void>;
  destroy(): void;
}

/** Prints through a hidden window that is opened for one document and closed after it. */
export function windowPrinter(open: () => HiddenWindow, tempFolder: string): PagePrinter {
  async function withPage<T>(html: string, use: (window: HiddenWindow) => Promise<T>): Promise<T> {
    const folder = await mkdtemp(join(tempFolder, 'evenrack-print-'));
    const window = open();
    try {
      const file = join(folder, 'page.html');
      await writeFile(file, withPolicy(html));
      await window.loadURL(pathToFileURL(file).href);
      return await use(window);
    } finally {
      window.destroy();
      await rm(folder, { recursive: true, force: true });
    }
  }

  return {
    print: (html) =>
      withPage(html, ({ webContents }) => {
        return new Promise<void>((resolve, reject) => {
          webContents.print({ printBackground: true }, (done, reason) => {
            if (done || /cancel/i.test(reason)) resolve();
            else reject(new FileTrouble(`printing failed: ${reason}`));
          });
        });
      }),
    pdf: (html) =>
      withPage(html, ({ webContents }) =>
        webContents.printToPDF({
          ...{ preferCSSPageSize: true, printBackground: true },
          // For who reads with ears, and to find one's way in a report.
          ...{ generateTaggedPDF: true, generateDocumentOutline: true },
        }),
      ),
  };
}

/** Puts the policy in front of everything else in the document's head. */
export function withPolicy(html: string): string {
  const meta = `<meta http-equiv="Content-Security-Policy" content="${printPolicy}">`;
  const head = /<head[^>]*>/i.exec(html);
  if (!head) return meta + html;
  const end = head.index + head[0].length;
  return html.slice(0, end) + meta + html.slice(end);
}
