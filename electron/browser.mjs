// Finds what can show or print a page on this machine. Plain JavaScript, because the build scripts
// need it before anything is built.
import { accessSync, constants, existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { delimiter, dirname, join } from 'node:path';

const onPath = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'chrome',
  'microsoft-edge',
  'msedge',
  'brave-browser',
];

const macApps = ['Google Chrome', 'Chromium', 'Microsoft Edge', 'Brave Browser'];

const windowsApps = [
  'Google\\Chrome\\Application\\chrome.exe',
  'Chromium\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
];

/** @param {string} file */
function runs(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * The first executable of these names in the folders of PATH, or null.
 * @param {readonly string[]} names
 * @param {Record<string, string | undefined>} [env]
 * @returns {string | null}
 */
export function findOnPath(names, env = process.env) {
  const suffix = process.platform === 'win32' ? '.exe' : '';
  for (const folder of (env['PATH'] ?? '').split(delimiter).filter(Boolean)) {
    const file = names.map((name) => join(folder, name + suffix)).find(runs);
    if (file) return file;
  }
  return null;
}

/**
 * The executable of an installed Chromium-family browser, or null. EVENRACK_BROWSER goes first, and
 * where it is set but is no executable nothing else is tried.
 * @param {Record<string, string | undefined>} [env]
 * @returns {string | null}
 */
export function findBrowser(env = process.env) {
  const named = env['EVENRACK_BROWSER'];
  if (named) return runs(named) ? named : null;
  const file = findOnPath(onPath, env);
  if (file) return file;
  const elsewhere =
    process.platform === 'darwin'
      ? macApps.map((name) => `/Applications/${name}.app/Contents/MacOS/${name}`)
      : process.platform === 'win32'
        ? [env['ProgramFiles'], env['ProgramFiles(x86)'], env['LOCALAPPDATA']].flatMap((root) =>
            root ? windowsApps.map((app) => join(root, app)) : [],
          )
        : [];
  return elsewhere.find(runs) ?? null;
}

/** Where the package of Electron stands. Never loads it: that would start a download. */
function electronFolder() {
  const paths = [process.cwd(), import.meta.dirname];
  return dirname(createRequire(import.meta.url).resolve('electron/package.json', { paths }));
}

/**
 * The executable of the Electron runtime, or null where the package was installed without it.
 * @param {Record<string, string | undefined>} [env]
 * @returns {string | null}
 */
export function findElectron(env = process.env) {
  try {
    const folder = electronFolder();
    const pathFile = join(folder, 'path.txt');
    const named = existsSync(pathFile) ? readFileSync(pathFile, 'utf8').trim() : '';
    const override = env['ELECTRON_OVERRIDE_DIST_PATH'];
    const file = override
      ? join(override, named || 'electron')
      : named && join(folder, 'dist', named);
    return file && runs(file) ? file : null;
  } catch {
    return null;
  }
}

/**
 * Whether anything can be shown on this machine. Only Linux tells.
 * @param {Record<string, string | undefined>} [env]
 */
export function hasDisplay(env = process.env) {
  return process.platform !== 'linux' || Boolean(env['DISPLAY'] || env['WAYLAND_DISPLAY']);
}

/** Chromium refuses its sandbox to root; elsewhere the sandbox stays on. */
export function sandboxFlags() {
  return process.getuid?.() === 0 ? ['--no-sandbox'] : [];
}

/** Keeps an unattended browser from fetching anything or asking anything. */
export const quietFlags = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--no-default-browser-check',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
