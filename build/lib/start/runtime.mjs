// Gets the Electron runtime by the package's own installer, and says how far it is.
import { lookup } from 'node:dns/promises';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { spawn } from 'node:child_process';
import { root } from '../run.mjs';

const usualHost = 'github.com';
const limits = {
  lookupMs: 3_000,
  firstByteMs: 30_000,
  stallMs: 60_000,
  totalMs: 20 * 60_000,
  tellMs: 10_000,
  slowMs: 60_000,
};
const sizeMb = 120;
/** Nobody waits longer without a word. */
const silentMs = 800;

/**
 * Tries to fetch the runtime; gives what was in the way as the end of a sentence, or null once it is
 * there. Ends within seconds where there is no way to it, and never waits without a word.
 * @returns {Promise<string | null>}
 */
export async function fetchRuntime({
  env = process.env,
  installer = join(root, 'node_modules', 'electron', 'install.js'),
  say = (words) => console.log(words),
  within = limits,
} = {}) {
  const elsewhere = env.ELECTRON_OVERRIDE_DIST_PATH;
  if (elsewhere) return `ELECTRON_OVERRIDE_DIST_PATH names ${elsewhere}, where none can be run`;
  const slow = setTimeout(() => say(`Looking for a way to ${sourceOf(env)}.`), silentMs);
  const lack = await wayToRuntime(env, within.lookupMs);
  clearTimeout(slow);
  if (lack !== null) return lack;
  const proxy = proxyOf(env);
  const source = `${sourceOf(env)}${proxy ? ` through the proxy ${hostOf(proxy)}` : ''}`;
  const folder = ownFolder();
  if (folder === null) return 'it cannot be put into node_modules, which may not be written to';
  say(`Fetching the Electron runtime from ${source}, about ${sizeMb} MB, once (Ctrl+C ends).`);
  return install(installer, env, folder, { say, within, source });
}

function ownFolder() {
  const place = join(root, 'node_modules', '.cache', 'evenrack');
  try {
    mkdirSync(place, { recursive: true });
    return mkdtempSync(join(place, 'electron-'));
  } catch {
    // A checkout that is read-only, or a disk that is full.
    return null;
  }
}

/** What is in the way of fetching anything, as the end of a sentence; null: nothing known. */
export async function wayToRuntime(env = process.env, lookupMs = limits.lookupMs) {
  if (env.npm_config_offline === 'true') return 'npm is set to work offline';
  const source = sourceOf(env);
  if (proxyOf(env) || (await resolves(source, lookupMs))) return null;
  return `there is no way to ${source}`;
}

/** Runs the installer; what it fetches grows in `folder`, and is watched there. */
function install(installer, env, folder, { say, within, source }) {
  const child = spawn(process.execPath, [installer], {
    env: { ...env, ...throughProxy(env), TMPDIR: folder, TMP: folder, TEMP: folder },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const clear = () => rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  const untie = endedBySignals(child, clear);
  let text = '';
  child.stderr.on('data', (part) => (text = (text + part).slice(-20_000)));
  return new Promise((resolve) => {
    const progress = progressOf({ within, source, say });
    let stopped = null;
    const watch = setInterval(() => {
      stopped ??= progress(megabytesIn(folder));
      if (stopped !== null) child.kill('SIGKILL');
    }, 250);
    const end = (why) => {
      clearInterval(watch);
      untie();
      clear();
      resolve(why);
    };
    child.once('error', (error) => end(`its installer cannot be run (${error.code})`));
    child.once('close', (code) => end(stopped ?? (code === 0 ? null : failure(text, source))));
  });
}

/** A signal leaves neither the installer nor what it has fetched so far behind. */
function endedBySignals(child, clear) {
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];
  const untie = () => signals.forEach((one) => process.off(one, end));
  function end(signal) {
    untie();
    child.kill('SIGKILL');
    clear();
    process.kill(process.pid, signal);
  }
  for (const one of signals) process.on(one, end);
  return untie;
}

/** Told how much is there, it says so now and then, and gives why it is no use to wait any longer. */
function progressOf({ within, source, say }) {
  const started = Date.now();
  let grown = { mb: 0, at: started };
  let told = { mb: 0, at: started };
  return (mb) => {
    const now = Date.now();
    if (mb > grown.mb) grown = { mb, at: now };
    const silent = now - grown.at;
    if (now - started > within.totalMs) return `${source} took over ${minutes(within.totalMs)}`;
    if (mb === 0 && silent > within.firstByteMs) return `${source} does not answer`;
    const isNearEnd = mb > sizeMb * 0.8;
    if (mb > 0 && !isNearEnd && silent > within.stallMs) {
      return `the line to ${source} stalled after ${spoken(mb)} MB`;
    }
    if (!isNearEnd && now - started > within.slowMs) {
      const wholeMs = ((now - started) / mb) * sizeMb;
      if (wholeMs > within.totalMs)
        return `the line to ${source} is too slow: ${spoken(mb)} MB in ${minutes(now - started)}`;
    }
    if (mb - told.mb >= 10 || now - told.at > within.tellMs) {
      told = { mb, at: now };
      say(mb === 0 ? '  no answer yet' : `  ${spoken(mb)} MB of about ${sizeMb}`);
    }
    return null;
  };
}

const spoken = (mb) => (mb < 1 ? mb.toFixed(1) : String(Math.round(mb)));

/** Where the runtime comes from, by the same variables that its installer reads. */
function sourceOf(env) {
  const mirror = env.npm_config_electron_mirror || env.ELECTRON_MIRROR;
  return mirror && URL.canParse(mirror) ? new URL(mirror).hostname : usualHost;
}

const proxyNames = ['https_proxy', 'HTTPS_PROXY', 'npm_config_https_proxy', 'npm_config_proxy'];
const proxyOf = (env) => proxyNames.map((name) => env[name]).find(Boolean);
/** Without the name and password that may stand before it. */
const hostOf = (proxy) => (URL.canParse(proxy) ? new URL(proxy).host : 'that is set');

/** Behind a proxy: both ways in which a Node of some age may be told to use it. */
function throughProxy(env) {
  const proxy = proxyOf(env);
  if (!proxy) return {};
  return { HTTPS_PROXY: proxy, ELECTRON_GET_USE_PROXY: 'true', NODE_USE_ENV_PROXY: '1' };
}

async function resolves(host, ms) {
  const tooLate = new Promise((resolve) => setTimeout(resolve, ms, false).unref());
  const found = lookup(host).then(
    () => true,
    () => false,
  );
  return Promise.race([found, tooLate]);
}

/** Of what stands in a folder, at any depth. */
function megabytesIn(folder) {
  let bytes = 0;
  try {
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
      const found = statSync(join(folder, name), { throwIfNoEntry: false });
      if (found?.isFile()) bytes += found.size;
    }
  } catch {
    // Being moved to its place just now.
  }
  return bytes / 1e6;
}

/** What went wrong, by the first line of the installer's trace; of a failed fetch, by its cause. */
function failure(text, source) {
  const lines = text.split('\n').map((line) => line.trim());
  const cause = lines.find((line) => line.startsWith('[cause]'))?.replace(/^\[cause\]:\s*/, '');
  const first = cause ?? lines.find((line) => /Error|E[A-Z]{4,}/.test(line)) ?? lines[0] ?? '';
  const said = first.replace(/^\w*Error:\s*/, '').replace(/\s*[[{]?$/, '');
  // What the libraries say of a line that is cut and of one that never stood.
  if (said === 'terminated') return `the line to ${source} broke off`;
  if (said === 'fetch failed') return `the connection to ${source} failed`;
  return `fetching it failed: ${said || 'the installer did not say why'}`;
}

const minutes = (ms) => {
  const whole = Math.round(ms / 60_000);
  return whole === 1 ? 'a minute' : `${whole} minutes`;
};
