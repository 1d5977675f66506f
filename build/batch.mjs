// npm run -s batch -- <verb> <arguments>: the app without a window. Bundled afresh at every call
// (about 0.2 s), so that it always runs the sources as they are and needs no build before it.
import './lib/ready.mjs';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { root } from './lib/run.mjs';

const folder = ownFolder();
const tidy = () => {
  if (folder !== null) rmSync(folder, { recursive: true, force: true });
};
const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];
const end = (signal) => {
  tidy();
  for (const one of signals) process.off(one, end);
  process.kill(process.pid, signal);
};
for (const signal of signals) process.on(signal, end);

const main = await load();
// All is in memory: nothing is left for a signal to leave behind, and so none is held up.
tidy();
for (const signal of signals) process.off(signal, end);
if (main) {
  standWhereThePersonStands();
  // Bundled only where long work is shared out; it takes about as long as the batch itself.
  const { codeForThread } = await import('./lib/bundle.mjs');
  await main(() => codeForThread('electron/batch/worker.ts'));
}

/** The bundle's main function; null, and it has said why, where there is none. */
async function load() {
  if (folder === null) {
    console.error('batch: found no folder for temporary files; one with room is expected');
    process.exitCode = 1;
    return null;
  }
  const file = join(folder, 'batch.mjs');
  const { bundleForNode } = await import('./lib/bundle.mjs');
  try {
    await bundleForNode('electron/batch/main.ts', file);
  } catch {
    // esbuild has said where the sources are broken.
    process.exitCode = 1;
    return null;
  }
  process.setSourceMapsEnabled(true);
  return (await import(pathToFileURL(file).href)).main;
}

/** A folder of its own a call, because calls may run side by side; elsewhere where the project may
 * not be written to. */
function ownFolder() {
  for (const place of [join(root, 'node_modules', '.cache', 'evenrack'), tmpdir()]) {
    try {
      mkdirSync(place, { recursive: true });
      return mkdtempSync(join(place, 'evenrack-batch-'));
    } catch {
      // The next one, then.
    }
  }
  return null;
}

/** npm runs its scripts in the project's folder; relative paths count from where it was called. */
function standWhereThePersonStands() {
  const { npm_lifecycle_event: script, INIT_CWD: place } = process.env;
  if (script === 'batch' && place) process.chdir(place);
}
