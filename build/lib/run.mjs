// What the build scripts share: where the project is, and how to run a child.
import { spawn } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
export const bin = (name) => join(root, 'node_modules', '.bin', name);
export const out = join(root, 'out');

/**
 * Runs a program to its end and gives its exit code and, with `capture`, what it wrote.
 * Interrupting this script interrupts the child.
 */
export function run(command, args, { capture = false, env = {}, cwd = root, timeoutMs } = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, {
      cwd,
      env: { ...process.env, ...env },
      stdio: capture ? ['ignore', 'pipe', 'pipe'] : ['ignore', 'inherit', 'inherit'],
      ...(timeoutMs ? { timeout: timeoutMs, killSignal: 'SIGKILL' } : {}),
    });
    let text = '';
    child.stdout?.on('data', (part) => (text += part));
    child.stderr?.on('data', (part) => (text += part));
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code: code ?? (signal ? 1 : 0), text }));
  });
}

/** Runs a program of node_modules under this Node. */
export const runBin = (name, args, options) => run(process.execPath, [bin(name), ...args], options);
