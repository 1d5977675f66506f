// The app in a window of an installed browser, served to this machine alone.
import { mkdirSync, readFileSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { findBrowser, hasDisplay, quietFlags, sandboxFlags } from '../../../electron/browser.mjs';
import { spawned, tie, unrunnable } from './child.mjs';

// Recent plans and unsaved work in a browser belong to the address, so it is the same wherever
// possible; the others stand in where another program has taken it.
const ports = [47170, 47171, 47172, 47173];
const atOnceMs = 4_000;
const longestScript = 20_000;

/**
 * Serves the app and opens it. Ends with the exit code once the window is closed; never ends where
 * the address is all that could be given.
 * @param {{ why: string, example: string, serve: (port: number) => Promise<{ url: string }>,
 *   env?: Record<string, string | undefined>, say?: (words: string) => unknown, within?: number,
 *   among?: readonly number[] }} what
 * @returns {Promise<number>}
 */
export async function showInBrowser({
  why,
  example,
  serve,
  env = process.env,
  say = (words) => console.log(words),
  within = atOnceMs,
  among = ports,
}) {
  const { url, served } = await serveSomewhere(serve, among);
  const page = `${url}#example=${example}`;
  const browser = hasDisplay(env) ? findBrowser(env) : null;
  const by = served ? 'Ctrl+C ends' : 'an Evenrack that runs already serves it';
  const byHand = `open ${page} in a browser (${by})`;
  if (!browser) {
    say(`${hasDisplay(env) ? `${why}, and ${noBrowser(env)}` : 'There is no display'}: ${byHand}.`);
    return served ? forever() : 0;
  }
  say(`${why}: Evenrack opens in a browser window instead (${page}).`);
  const ended = await open(browser, page, profileFor(browser, env));
  if (ended.error) {
    say(`${browser} has not started, ${ended.error}: ${byHand}.`);
    return served ? forever() : 1;
  }
  if (ended.asked || ended.ms > within) return 0;
  if (ended.code === 0 && !served) return 0;
  // A browser may hand the window to one that runs already: the page must stay served then.
  const how = ended.code === 0 ? 'has ended at once' : `has failed at once (${ended.code})`;
  say(`${browser} ${how}. If no window has opened, ${byHand}.`);
  return served ? forever() : 1;
}

function noBrowser({ EVENRACK_BROWSER: named }) {
  if (named) return `EVENRACK_BROWSER names ${named}, which cannot be run`;
  return 'no Chromium-family browser is installed';
}

/** `served` false: another Evenrack of this account serves the page already. */
async function serveSomewhere(serve, among) {
  for (const port of among) {
    try {
      return { url: (await serve(port)).url, served: true };
    } catch (error) {
      if (error.code !== 'EADDRINUSE' && error.code !== 'EACCES') throw error;
      const url = `http://127.0.0.1:${port}/`;
      if (await isEvenrack(url)) return { url, served: false };
    }
  }
  return { url: (await serve(0)).url, served: true };
}

async function isEvenrack(url) {
  try {
    const { headers } = await fetch(url, { method: 'HEAD', signal: AbortSignal.timeout(1_000) });
    return headers.get('server') === 'evenrack';
  } catch {
    // Another program, which speaks otherwise or not at all.
    return false;
  }
}

/** Runs the browser to its end. */
function open(browser, page, profile) {
  const started = Date.now();
  const flags = [`--app=${page}`, `--user-data-dir=${profile}`, ...sandboxFlags(), ...quietFlags];
  const child = spawned(browser, flags, { stdio: 'ignore' });
  if ('failed' in child) return { error: child.failed };
  const { untie, asked } = tie(child);
  return new Promise((resolve) => {
    child.once('error', (error) => resolve({ error: unrunnable(error).failed }));
    child.once('exit', (code, signal) =>
      resolve({ ms: Date.now() - started, code: code ?? signal, asked: asked() }),
    );
  }).finally(untie);
}

/** A profile of its own, so that the window's end is the end of the browser. */
function profileFor(browser, env) {
  const profile = join(dataFolder(browser, env), 'evenrack-browser');
  // Where it cannot be made, the browser itself says more.
  try {
    mkdirSync(profile, { recursive: true });
  } catch {}
  return profile;
}

function dataFolder(browser, { LOCALAPPDATA, XDG_DATA_HOME }) {
  if (process.platform === 'win32' && LOCALAPPDATA) return LOCALAPPDATA;
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Application Support');
  // A browser in a snap sees no hidden folder of the home, only its own.
  const snap = snapOf(browser);
  if (snap) return join(homedir(), 'snap', snap, 'common');
  return XDG_DATA_HOME || join(homedir(), '.local', 'share');
}

/** The snap that a browser comes in, also behind the short script that some systems put before it. */
export function snapOf(browser) {
  const inSnap = /\/snap\/(?:bin\/)?([a-z0-9-]+)/;
  const named = inSnap.exec(browser);
  if (named) return named[1];
  try {
    if (statSync(browser).size > longestScript) return null;
    return inSnap.exec(readFileSync(browser, 'latin1'))?.[1] ?? null;
  } catch {
    // It may be run though not be read.
    return null;
  }
}

const forever = () => new Promise(() => {});
