import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { bundleForNode } from '../../build/lib/bundle.mjs';
import { channelNames } from '../../shared-types/ipcNames';
import { tempFolder } from './tempFolder';

// The Electron runtime is not needed, and not proven: the bundled main file runs under plain Node
// with an object in Electron's place that writes down every call.

const fakeElectron = `
  const calls = [];
  let ready;
  const note = (name, value) => { calls.push([name, value]); };
  const appListeners = {};
  let lock = process.env.FAKE_LOCK !== 'taken';
  const handlers = {};
  class BrowserWindow {
    constructor(options) {
      note('window', options.webPreferences.sandbox && options.webPreferences.preload);
      this.webContents = { on: () => {}, setWindowOpenHandler: () => {}, send: (...a) => note('send', a) };
      appListeners['web-contents-created']?.({}, this.webContents);
    }
    once() {} on(name, f) { if (name === 'close') this.close = f; if (name === 'closed') this.closed = f; }
    loadURL(url) { note('load', url); return Promise.resolve(); }
    setDocumentEdited(value) { note('edited', value); }
    isMinimized() { return false; } focus() { note('focus'); } show() {}
  }
  export { BrowserWindow };
  export const app = {
    whenReady: () => { note('whenReady'); return new Promise((resolve) => { ready = resolve; }); },
    isReady: () => true,
    getPath: (name) => process.env.FAKE_DATA,
    on: (name, f) => { appListeners[name] = f; },
    requestSingleInstanceLock: () => lock,
    quit: () => note('quit'),
  };
  export const protocol = {
    registerSchemesAsPrivileged: (schemes) => note('schemes', schemes.map((s) => s.scheme)),
    handle: (scheme) => note('protocol', scheme),
  };
  export const session = { defaultSession: {
    setPermissionRequestHandler: () => note('permissions'), setPermissionCheckHandler: () => {} } };
  export const ipcMain = { handle: (name, f) => { handlers[name] = f; } };
  export const Menu = { buildFromTemplate: (t) => t, setApplicationMenu: (t) => note('menu', t.length > 0) };
  export const dialog = { showMessageBoxSync: () => { note('ask'); return 0; } };
  const noted = (name) => calls.some(([known]) => known === name);
  // A loaded machine is slow: what is to come is waited for, up to a bound.
  const until = async (come) => {
    for (let i = 0; i < 500 && !come(); i++) await new Promise((r) => setTimeout(r, 10));
  };
  setTimeout(async () => {
    await until(() => ready || noted('quit'));
    note('before ready');
    ready?.();
    await until(() => handlers.listening || noted('quit'));
    note('channels', Object.keys(handlers));
    const event = { senderFrame: { url: 'app://evenrack/index.html', parent: null } };
    if (handlers.listening) {
      await handlers.listening(event, {});
      appListeners['second-instance']({}, ['app', 'plan.evenrack'], process.env.FAKE_DATA);
      await until(() => noted('send') || noted('ask'));
    }
    console.log(JSON.stringify(calls));
    process.exit(0);
  }, 20);
`;

async function runMain(env: Record<string, string>): Promise<[string, unknown][]> {
  const folder = await tempFolder();
  await writeFile(join(folder, 'electron.mjs'), fakeElectron);
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
  return JSON.parse(out) as [string, unknown][];
}

test('the bundled main file wires everything in the right order (against a stand-in, not Electron)', async () => {
  const calls = await runMain({});
  const names = calls.map(([name]) => name);
  // The scheme must be privileged before Electron is ready, and served before the window loads.
  expect(names.indexOf('schemes')).toBeLessThan(names.indexOf('before ready'));
  expect(names.indexOf('protocol')).toBeLessThan(names.indexOf('load'));
  expect(names.indexOf('permissions')).toBeLessThan(names.indexOf('load'));
  const of = (wanted: string): unknown => calls.find(([name]) => name === wanted)?.[1];
  expect(of('load')).toBe('app://evenrack/index.html');
  expect(of('channels')).toEqual([...channelNames]);
  expect(of('menu')).toBe(true);
  expect(of('window')).toMatch(/preload\.cjs$/);
  expect(of('send')).toEqual([
    'openRequest',
    {
      text: 'a plan',
      ref: {
        key: expect.stringMatching(/plan\.evenrack$/) as string,
        name: 'plan.evenrack',
        seen: createHash('sha256').update('a plan').digest('hex'),
      },
    },
  ]);
});

test('a second start hands over and quits (against a stand-in, not Electron)', async () => {
  const calls = await runMain({ FAKE_LOCK: 'taken' });
  expect(calls.map(([name]) => name)).toEqual(['quit', 'before ready', 'channels']);
});
