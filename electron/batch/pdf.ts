import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { findBrowser, quietFlags, sandboxFlags } from '../browser.mjs';
import { writeBeside } from '../services/write-beside';

const timeoutMs = 120_000;

/**
 * Prints a whole HTML document to a PDF file by an installed Chromium-family browser; the page size
 * is the document's own `@page` size. False: no browser is installed, and nothing was written.
 * Throws where the browser fails.
 */
export async function htmlToPdf(html: string, file: string): Promise<boolean> {
  const browser = findBrowser();
  if (browser === null) return false;
  const folder = await mkdtemp(join(tmpdir(), 'evenrack-pdf-'));
  try {
    const page = join(folder, 'page.html');
    const pdf = join(folder, 'page.pdf');
    await writeFile(page, html);
    const flags = [
      '--headless',
      ...sandboxFlags(),
      ...quietFlags,
      `--user-data-dir=${join(folder, 'profile')}`,
      '--no-pdf-header-footer',
      `--print-to-pdf=${pdf}`,
      pathToFileURL(page).href,
    ];
    await promisify(execFile)(browser, flags, { timeout: timeoutMs });
    await writeBeside(file, await readFile(pdf));
    return true;
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}
