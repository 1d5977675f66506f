// What the build scripts share: where the project is, and how to run a child.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
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

/**
 * Which package brings which program, where their names differ. Types are checked by the native
 * compiler, which needs a third of the time; the linter can only use the one in JavaScript.
 */
const bringers = { tsc: 'typescript-native', playwright: '@playwright/test' };

/** Runs a program of node_modules under this Node; its file is looked up, because the links in
 * node_modules/.bin are shell scripts on some systems. */
export function runBin(name, args, options) {
  const folder = join(root, 'node_modules', bringers[name] ?? name);
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const file = typeof bin === 'string' ? bin : bin[name];
  return run(process.execPath, [join(folder, file), ...args], options);
}
