// npm start [-- PLAN --SWITCH]: the desktop app where the Electron runtime is here or can be fetched, and
// starts; otherwise the same app in a window of an installed browser, with the reason.
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { findElectron } from '../electron/browser.mjs';
import { out, root } from './lib/run.mjs';
import { needBuilt } from './lib/start/built.mjs';
import { showInBrowser } from './lib/start/browserWindow.mjs';
import { runDesktop } from './lib/start/desktop.mjs';
import { sandboxRemedy, sandboxTrouble } from './lib/start/linuxSandbox.mjs';
import { fetchRuntime } from './lib/start/runtime.mjs';

// npm runs its scripts in the project's folder; relative paths count from where it was called.
const stood = process.env.INIT_CWD ?? process.cwd();
const given = process.argv.slice(2);
const plans = given.filter((word) => !word.startsWith('-')).map((plan) => resolve(stood, plan));
// For Chromium, such as --disable-gpu.
const switches = given.filter((word) => word.startsWith('-'));
const demo = 'basil';

const unbuilt = await needBuilt();
if (unbuilt !== null) {
  console.error(unbuilt);
  process.exit(1);
}
const why = await startDesktop();
if (why !== null) {
  if (plans.length > 0) console.log(`Open ${plans.join(', ')} in the window by Open….`);
  const { serveRenderer } = await import(pathToFileURL(join(out, 'electron', 'serve.js')).href);
  const serve = (port) => serveRenderer(join(out, 'renderer'), port);
  process.exit(await showInBrowser({ why, example: demo, serve }));
}

/** Runs the desktop app to its end; gives why it did not start, as the beginning of a sentence. */
async function startDesktop() {
  if (process.env.EVENRACK_RUNTIME === 'browser') return 'A browser was asked for';
  const lack = findElectron() ? null : await fetchRuntime();
  const electron = findElectron();
  if (!electron) {
    return `The Electron runtime is not here (${lack ?? 'its installer left none that can run'})`;
  }
  const trouble = sandboxTrouble(electron);
  if (trouble) {
    sayRemedy(trouble.remedy);
    return `Electron cannot start (${trouble.why})`;
  }
  const words = plans.length > 0 ? plans : [`--example=${demo}`];
  const ended = await runDesktop(electron, [...switches, root, ...words]);
  if (!('failed' in ended)) process.exit(ended.code);
  if (process.platform === 'linux' && /sandbox/.test(ended.failed)) {
    sayRemedy(sandboxRemedy(electron));
  }
  return `Electron did not start (${ended.failed})`;
}

function sayRemedy(command) {
  console.log(`To let the desktop app start here, run this once: ${command}`);
}
