// Starts the desktop app, and says why where it did not come to anything.
import { spawn } from 'node:child_process';
import { sandboxFlags } from '../../../electron/browser.mjs';

/** A window that goes wrong later was one; before, the start has failed. */
const startMs = 20_000;
const tailLength = 4_000;

/**
 * Runs the app to its end. `failed`: it ended in trouble before it was much use, with the reason as
 * the end of a sentence; otherwise its exit code.
 * @param {string} electron
 * @param {readonly string[]} words
 * @param {{ within?: number, stderr?: { write(part: unknown): unknown } }} [options]
 * @returns {Promise<{ failed: string } | { code: number }>}
 */
export function runDesktop(electron, words, { within = startMs, stderr = process.stderr } = {}) {
  const started = Date.now();
  return new Promise((resolve) => {
    const child = spawn(electron, [...sandboxFlags(), ...words], {
      stdio: ['inherit', 'inherit', 'pipe'],
    });
    let tail = '';
    child.stderr.on('data', (part) => {
      stderr.write(part);
      tail = (tail + part).slice(-tailLength);
    });
    child.once('error', (error) => resolve({ failed: `it cannot be run (${error.code})` }));
    child.once('close', (code, signal) => {
      const early = Date.now() - started < within;
      // Ended by the person: Ctrl+C, or the session closed.
      const asked = signal === 'SIGINT' || signal === 'SIGTERM' || signal === 'SIGHUP';
      if (code === 0 || asked || !early) resolve({ code: code ?? (asked ? 0 : 1) });
      else resolve({ failed: whyEnded(code, signal, tail) });
    });
  });
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
  return signal ? `it was ended by ${signal}` : `it ended with code ${code}`;
}
