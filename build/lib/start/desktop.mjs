// Starts the desktop app, and says why where it did not come to anything.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sandboxFlags } from '../../../electron/browser.mjs';
import { spawned, tie, unrunnable } from './child.mjs';

/** A window that goes wrong later was one; before, the start has failed. */
const limits = { startMs: 20_000, saidMs: 15_000, windowMs: 60_000 };
const tailLength = 4_000;

/**
 * Runs the app to its end. `failed`: it ended in trouble before it was much use, or showed nothing,
 * with the reason as the end of a sentence; otherwise its exit code.
 * @param {string} electron
 * @param {readonly string[]} words
 * @param {{ within?: typeof limits, stderr?: { write(part: unknown): unknown },
 *   say?: (words: string) => unknown }} [options]
 * @returns {Promise<{ failed: string } | { code: number }>}
 */
export async function runDesktop(electron, words, options = {}) {
  const folder = folderForSign();
  try {
    return await run(electron, words, folder && join(folder, 'sign'), options);
  } finally {
    if (folder) rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}

function folderForSign() {
  try {
    return mkdtempSync(join(tmpdir(), 'evenrack-start-'));
  } catch {
    // Without it nobody hears how far the app came, and it is believed.
    return null;
  }
}

/** `sign`: the file by which the app tells how far it came (`electron/services/startSign.ts`). */
function run(
  electron,
  words,
  sign,
  { within = limits, stderr = process.stderr, say = (text) => console.log(text) },
) {
  const started = Date.now();
  const child = spawned(electron, [...sandboxFlags(), ...words], {
    stdio: ['inherit', 'inherit', 'pipe'],
    env: { ...process.env, ...(sign ? { EVENRACK_START_SIGN: sign } : {}) },
  });
  if ('failed' in child) return child;
  return new Promise((resolve) => {
    const { untie, asked } = tie(child);
    const stopWatching = watch(child, sign, { within, say });
    let tail = '';
    child.stderr.on('data', (part) => {
      stderr.write(part);
      tail = (tail + part).slice(-tailLength);
    });
    const end = (answer) => {
      untie();
      stopWatching();
      resolve(answer);
    };
    child.once('error', (error) => end(unrunnable(error)));
    child.once('close', (code, signal) => {
      const word = signOf(sign);
      if (word === 'handedOver') say('Evenrack runs already: its window comes to the front.');
      // Ended by the person: Ctrl+C, or the session closed.
      if (asked() || signal === 'SIGINT' || signal === 'SIGTERM' || signal === 'SIGHUP')
        end({ code: 0 });
      else if (word === null && stopWatching.gaveUp()) {
        end({ failed: `it showed no window in ${Math.round(within.windowMs / 1000)} s` });
      } else if (code === 0 && word === null) end({ failed: 'it ended without a window' });
      else if (code === 0 || Date.now() - started >= within.startMs) end({ code: code ?? 1 });
      else end({ failed: whyEnded(code, signal, tail) });
    });
  });
}

/** Nobody waits for a window without a word, nor for ever. */
function watch(child, sign, { within, say }) {
  let gaveUp = false;
  const seconds = (ms) => Math.round(ms / 1000);
  const word = setTimeout(() => {
    if (signOf(sign) !== null) return;
    const left = seconds(within.windowMs - within.saidMs);
    say(
      `Electron has shown no window yet. If none comes in ${left} s, Evenrack opens in a browser instead (Ctrl+C ends).`,
    );
  }, within.saidMs);
  const last = setTimeout(() => {
    if (signOf(sign) !== null) return;
    gaveUp = true;
    child.kill('SIGKILL');
  }, within.windowMs);
  const stop = () => {
    clearTimeout(word);
    clearTimeout(last);
  };
  return Object.assign(stop, { gaveUp: () => gaveUp });
}

function signOf(file) {
  if (file === null) return 'shown';
  try {
    return readFileSync(file, 'utf8');
  } catch {
    // It has not come so far.
    return null;
  }
}

const known = [
  [/sandbox/i, 'its sandbox cannot be made on this system'],
  [/cannot open display|Missing X server|ozone|Unable to open X display/i, 'it finds no display'],
  [/GPU process isn't usable/i, 'the graphics driver does not work with it'],
  [/error while loading shared libraries: ([^:\s]+)/i, 'the system lacks the library $1'],
  [/GLIBC_[\d.]+' not found/i, 'this system is older than it needs'],
];

function whyEnded(code, signal, tail) {
  for (const [sign, words] of known) {
    const match = sign.exec(tail);
    if (match) return words.replace('$1', match[1] ?? '');
  }
  // An abort of Chromium's own, which is mostly this where it says nothing: 128 and SIGTRAP, 5.
  if (code === 133 || signal === 'SIGTRAP') {
    return 'it aborted at once, as it does where its sandbox cannot be made';
  }
  return signal ? `it was ended by ${signal}` : `it ended with code ${code}`;
}
