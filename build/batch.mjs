// npm run -s batch -- <verb> <arguments>: the app without a window. Bundled afresh at every call
// (about 0.2 s), so that it always runs the sources as they are and needs no build before it.
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundleForNode } from './lib/bundle.mjs';
import { root } from './lib/run.mjs';

// A folder of its own a call: calls may run side by side.
const cache = join(root, 'node_modules', '.cache', 'evenrack');
mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'batch-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

const file = join(folder, 'batch.mjs');
try {
  await bundleForNode('electron/batch/main.ts', file);
} catch {
  // esbuild has said where the sources are broken.
  process.exit(1);
}
process.setSourceMapsEnabled(true);
await import(pathToFileURL(file).href);
