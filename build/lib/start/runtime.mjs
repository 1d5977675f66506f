// Gets the Electron runtime by the package's own installer, and says how far it is.
import { lookup } from 'node:dns/promises';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { spawn } from 'node:child_process';
import { root } from '../run.mjs';

const usualHost = 'github.com';
const limits = { lookupMs: 3_000, firstByteMs: 30_000, stallMs: 60_000, totalMs: 20 * 60_000 };
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
  const slow = setTimeout(() => say(`Looking for a way to ${sourceOf(env)}.`), silentMs);
  const lack = await wayToRuntime(env, within.lookupMs);
  clearTimeout(slow);
  if (lack !== null) return lack;
  const source = sourceOf(env);
  const folder = ownFolder();
  if (folder === null) return 'it cannot be put into node_modules, which may not be written to';
  say(`Fetching the Electron runtime from ${source}, about ${sizeMb} MB, once (Ctrl+C ends).`);
  try {
    return await install(installer, env, folder, { say, within, source });
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  }
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
  let text = '';
  child.stderr.on('data', (part) => (text = (text + part).slice(-20_000)));
  return new Promise((resolve) => {
    const started = Date.now();
    let seen = { mb: 0, at: started, told: 0 };
    const stop = (why) => {
      clearInterval(watch);
      child.kill('SIGKILL');
      resolve(why);
    };
    const watch = setInterval(() => {
      const now = Date.now();
      const mb = megabytesIn(folder);
      if (mb > seen.mb) seen = { ...seen, mb, at: now };
      const silent = now - seen.at;
      if (now - started > within.totalMs) stop(`${source} took over ${minutes(within.totalMs)}`);
      else if (mb === 0 && silent > within.firstByteMs) stop(`${source} does not answer`);
      else if (mb > 0 && mb < sizeMb * 0.8 && silent > within.stallMs) {
        stop(`the line to ${source} stalled after ${Math.round(mb)} MB`);
      } else if (Math.floor(mb / 10) > seen.told) {
        seen.told = Math.floor(mb / 10);
        say(`  ${Math.round(mb)} MB of about ${sizeMb}`);
      }
    }, 250);
    child.once('error', (error) => stop(`its installer cannot be run (${error.code})`));
    child.once('close', (code) => stop(code === 0 ? null : failure(text, source)));
  });
}

/** Where the runtime comes from, by the same variables that its installer reads. */
function sourceOf(env) {
  const mirror = env.npm_config_electron_mirror || env.ELECTRON_MIRROR;
  return mirror && URL.canParse(mirror) ? new URL(mirror).hostname : usualHost;
}

const proxyNames = ['https_proxy', 'HTTPS_PROXY', 'npm_config_https_proxy', 'npm_config_proxy'];
const proxyOf = (env) => proxyNames.map((name) => env[name]).find(Boolean);

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
  if (said === 'fetch failed') return `the connection to ${source} failed`;
  return `fetching it failed: ${said || 'the installer did not say why'}`;
}

const minutes = (ms) => `${Math.round(ms / 60_000)} minutes`;
