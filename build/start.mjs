// npm start: the desktop app where the Electron runtime is present or can be fetched; otherwise the
// same app in a window of an installed browser, served to this machine alone.
import { spawn } from 'node:child_process';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { findBrowser, findElectron, quietFlags, sandboxFlags } from '../electron/browser.mjs';
import { buildElectron, buildRenderer } from './lib/app.mjs';
import { fetchElectron } from './lib/electronRuntime.mjs';
import { isBuilt } from './lib/fresh.mjs';
import { out, root } from './lib/run.mjs';

// npm start -- PLAN opens a plan on the desktop; without one the demo opens.
const plans = process.argv.slice(2);
const demo = 'basil';
// Always the same, because recent plans and unsaved work in a browser belong to the address.
const usualPort = 47170;

if (!isBuilt()) {
  await buildRenderer();
  await buildElectron();
}

const electron = findElectron() ?? (await fetchElectron());
if (electron) {
  const words = plans.length > 0 ? plans : [`--example=${demo}`];
  const child = spawn(electron, [...sandboxFlags(), root, ...words], { stdio: 'inherit' });
  child.on('exit', (code) => process.exit(code ?? 1));
} else {
  await showInBrowser();
}

async function showInBrowser() {
  const { serveRenderer } = await import(pathToFileURL(join(out, 'electron', 'serve.js')).href);
  const folder = join(out, 'renderer');
  const served = await serveRenderer(folder, usualPort).catch(() => serveRenderer(folder));
  const url = `${served.url}#example=${demo}`;
  const hasDisplay =
    process.platform !== 'linux' || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  const browser = hasDisplay ? findBrowser() : null;
  const why = 'The Electron runtime is not here and cannot be fetched';
  if (!browser) {
    const lack = hasDisplay ? 'no Chromium-family browser is installed' : 'there is no display';
    console.log(`${why}, and ${lack}: open ${url} in a browser (Ctrl+C ends).`);
    return;
  }
  console.log(`${why}: Evenrack opens in a browser window instead (${url}).`);
  // A profile of its own, so that the window's end is the end of this process; one more where the
  // usual address is taken, because a browser hands a second window of a profile to the first.
  const second = Number(new URL(url).port) === usualPort ? '' : '-second';
  const profile = join(dataFolder(), `evenrack-browser${second}`);
  const child = spawn(
    browser,
    [`--app=${url}`, `--user-data-dir=${profile}`, ...sandboxFlags(), ...quietFlags],
    { stdio: 'ignore' },
  );
  child.on('exit', () => process.exit(0));
}

function dataFolder() {
  const { LOCALAPPDATA, XDG_DATA_HOME } = process.env;
  if (process.platform === 'win32' && LOCALAPPDATA) return LOCALAPPDATA;
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Application Support');
  return XDG_DATA_HOME || join(homedir(), '.local', 'share');
}
