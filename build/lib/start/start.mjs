// The desktop app, or the same app in a window of an installed browser, with the reason.
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { findElectron, hasDisplay } from '../../../electron/browser.mjs';
import { out, root } from '../run.mjs';
import { needBuilt } from './built.mjs';
import { showInBrowser } from './browserWindow.mjs';
import { runDesktop } from './desktop.mjs';
import { sandboxRemedy, sandboxTrouble } from './linuxSandbox.mjs';
import { fetchRuntime } from './runtime.mjs';

const demo = 'basil';

/**
 * Gives the exit code once the app has ended.
 * @param {readonly string[]} given plans to open, and switches for Chromium, such as --disable-gpu
 * @returns {Promise<number>}
 */
export async function start(given) {
  // npm runs its scripts in the project's folder; relative paths count from where it was called.
  const stood = process.env.INIT_CWD ?? process.cwd();
  const plans = given.filter((word) => !word.startsWith('-')).map((plan) => resolve(stood, plan));
  const switches = given.filter((word) => word.startsWith('-'));
  const unbuilt = await needBuilt();
  if (unbuilt !== null) {
    console.error(unbuilt);
    return 1;
  }
  const shown = await showDesktop(plans, switches);
  if ('code' in shown) return shown.code;
  if (plans.length > 0) console.log(`Open ${plans.join(', ')} in the window by Open….`);
  const { serveRenderer } = await import(pathToFileURL(join(out, 'electron', 'serve.js')).href);
  const serve = (port) => serveRenderer(join(out, 'renderer'), port);
  return showInBrowser({ why: shown.why, example: demo, serve });
}

/** Runs the desktop app to its end; or gives why it did not start, as the beginning of a sentence. */
async function showDesktop(plans, switches) {
  if (process.env.EVENRACK_RUNTIME === 'browser') return { why: 'A browser was asked for' };
  // Nothing is fetched that could show nothing.
  if (!hasDisplay()) return { why: 'There is no display' };
  const lack = findElectron() ? null : await fetchRuntime();
  const electron = findElectron();
  if (!electron) {
    const left =
      'its installer left none that can run; without the folder node_modules/electron/dist it fetches it afresh';
    return { why: `The Electron runtime is not here (${lack ?? left})` };
  }
  const trouble = sandboxTrouble(electron);
  if (trouble) {
    sayRemedy(trouble.remedy);
    return { why: `Electron cannot start (${trouble.why})` };
  }
  const words = plans.length > 0 ? plans : [`--example=${demo}`];
  const ended = await runDesktop(electron, [...switches, root, ...words]);
  if ('code' in ended) return ended;
  // Root has none.
  if (process.platform === 'linux' && process.getuid() !== 0 && /sandbox/.test(ended.failed)) {
    sayRemedy(sandboxRemedy(electron));
  }
  if (/without a window|SIGSEGV|SIGBUS|cannot be run/.test(ended.failed)) {
    console.log(
      `If it came in part only: delete ${dirname(electron)}, and the next start fetches it.`,
    );
  }
  return { why: `Electron did not start (${ended.failed})` };
}

function sayRemedy(command) {
  console.log(`To let the desktop app start here, run this once: ${command}`);
}
