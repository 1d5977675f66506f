import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type * as forPages from './forPages';
import { bundleForNode } from '../../../build/lib/bundle.mjs';

type ForPages = typeof forPages;

/**
 * The print room bundled: the runner of the browser specs loads sources as Node does, which refuses
 * the version read from package.json.
 */
export async function bundledPrint(): Promise<ForPages> {
  const folder = await mkdtemp(join(tmpdir(), 'evenrack-print-'));
  try {
    const outfile = join(folder, 'print.mjs');
    await bundleForNode('tests/print/support/forPages.ts', outfile);
    return (await import(pathToFileURL(outfile).href)) as ForPages;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
