import { spawn } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { bundleForNode } from '../../build/lib/bundle.mjs';
import { channelNames } from '../../shared-types/window/ipcNames';
import { tempFolder } from './tempFolder';

// The Electron runtime is not needed, and not proven: the bundled main file runs under plain Node
// with a stand-in in Electron's place that writes down what is done.

interface Played {
  said: string[];
  channels: string[];
}

async function runMain(env: Record<string, string>): Promise<Played> {
  const folder = await tempFolder();
  const standIn = 'tests/electron/support/electronModule.ts';
  await bundleForNode(standIn, join(folder, 'electron.mjs'), { sourcemap: false });
  await writeFile(
    join(folder, 'hook.mjs'),
    `export const resolve = (name, context, next) => name === 'electron'
       ? { url: new URL('./electron.mjs', import.meta.url).href, shortCircuit: true }
       : next(name, context);`,
  );
  await writeFile(
    join(folder, 'register.mjs'),
    `import { register } from 'node:module'; register('./hook.mjs', import.meta.url);`,
  );
  await mkdir(join(folder, 'electron'));
  const main = join(folder, 'electron', 'main.mjs');
  await bundleForNode('electron/main.ts', main, { external: ['electron'] });
  await writeFile(join(folder, 'plan.evenrack'), 'a plan');
  const child = spawn(process.execPath, ['--import', join(folder, 'register.mjs'), main], {
    env: { ...process.env, FAKE_DATA: folder, ...env },
    cwd: folder,
  });
  let [out, err] = ['', ''];
  child.stdout.on('data', (part) => (out += String(part)));
  child.stderr.on('data', (part) => (err += String(part)));
  await new Promise((resolve) => child.on('close', resolve));
  expect(err).toBe('');
  return JSON.parse(out) as Played;
}

test('the bundled main file wires everything in the right order (against a stand-in, not Electron)', async () => {
  const { said, channels } = await runMain({});
  const at = (words: string): number => said.findIndex((one) => one.startsWith(words));
  expect(at('schemes app evenrack-print')).toBe(1);
  expect(at('sandbox')).toBeLessThan(at('before ready'));
  expect(at('before ready')).toBeLessThan(at('protocol app'));
  expect(at('protocol app')).toBeLessThan(at('load app://evenrack/index.html?region=de-AT'));
  expect(at('default: permissions')).toBeLessThan(at('load'));
  expect(channels).toEqual([...channelNames]);
  expect(said.at(-1)).toBe('tell openRequest');
});

test('a second start hands over and quits (against a stand-in, not Electron)', async () => {
  const { said, channels } = await runMain({ FAKE_LOCK: 'taken' });
  expect(said).toEqual(['ended', 'before ready']);
  expect(channels).toEqual([]);
});
