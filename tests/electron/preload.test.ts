import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { expect, test, vi } from 'vitest';
import { bundleForNode, preloadBundle } from '../../build/lib/bundle.mjs';
import type { Bridge } from '../../shared-types/window/ipc';
import { channelNames } from '../../shared-types/window/ipcNames';
import { tempFolder } from './tempFolder';

type Forward = (event: unknown, payload: unknown) => void;

/** Loads the preload with Electron's two objects replaced by ones that write down what happens. */
async function load(answer: unknown): Promise<{
  exposed: Record<string, Bridge>;
  invoked: unknown[][];
  listeners: Map<string, Forward>;
}> {
  const exposed: Record<string, Bridge> = {};
  const invoked: unknown[][] = [];
  const listeners = new Map<string, Forward>();
  vi.resetModules();
  vi.doMock('electron', () => ({
    contextBridge: {
      exposeInMainWorld: (name: string, bridge: Bridge) => void (exposed[name] = bridge),
    },
    ipcRenderer: {
      invoke: (...words: unknown[]) => {
        invoked.push(words);
        return Promise.resolve(answer);
      },
      on: (name: string, listener: Forward) => void listeners.set(name, listener),
      removeListener: (name: string) => void listeners.delete(name),
    },
  }));
  await import('../../electron/preload');
  vi.doUnmock('electron');
  return { exposed, invoked, listeners };
}

function bridgeOf(exposed: Record<string, Bridge>): Bridge {
  const { evenrackBridge } = exposed;
  if (!evenrackBridge) throw new Error('the preload exposed no bridge');
  return evenrackBridge;
}

test('exposes the listed channels and nothing else (our wiring, not Electron)', async () => {
  const { exposed } = await load(null);
  expect(Object.keys(exposed)).toEqual(['evenrackBridge']);
  expect(Object.keys(bridgeOf(exposed)).sort()).toEqual([...channelNames, 'on'].sort());
});

test.each([
  { ok: true, value: [] },
  { ok: false, message: '/a: cannot be saved, the disk is full' },
] as const)(
  'passes a request on and its answer back (our wiring, not Electron)',
  async (answer) => {
    const { exposed, invoked } = await load(answer);
    expect(await bridgeOf(exposed).recentPlans({})).toEqual(answer);
    expect(invoked).toEqual([['recentPlans', {}]]);
  },
);

test("passes events on without Electron's event object (our wiring, not Electron)", async () => {
  const { exposed, listeners } = await load(null);
  const heard: unknown[][] = [];
  const stop = bridgeOf(exposed).on('menu', (...words) => heard.push(words));
  listeners.get('menu')?.({ sender: 'secret' }, 'save');
  expect(heard).toEqual([['save']]);
  stop();
  expect(listeners.size).toBe(0);
});

test('refuses to listen to an event that is not listed (our wiring, not Electron)', async () => {
  const { exposed, listeners } = await load(null);
  const bridge = bridgeOf(exposed) as unknown as { on(name: string, hear: () => void): void };
  expect(() => bridge.on('ELECTRON_INTERNAL', () => undefined)).toThrow('no event is named');
  expect(listeners.size).toBe(0);
});

test('the bundled preload runs on what a sandbox offers, and needs nothing else', async () => {
  const file = join(await tempFolder(), 'preload.cjs');
  await bundleForNode('electron/preload.ts', file, preloadBundle);
  const exposed: Record<string, Bridge> = {};
  const invoked: unknown[] = [];
  const electron = {
    contextBridge: {
      exposeInMainWorld: (name: string, bridge: Bridge) => void (exposed[name] = bridge),
    },
    ipcRenderer: {
      invoke: (channel: string) => Promise.resolve(invoked.push(channel)),
      on: () => undefined,
      removeListener: () => undefined,
    },
  };
  // As Electron documents of a sandboxed preload: these modules, these globals.
  const offered: Record<string, unknown> = { electron, events: {}, timers: {}, url: {} };
  const names = ['require', 'process', 'Buffer', 'setImmediate', 'clearImmediate', 'exports'];
  const run = runInNewContext(
    `(function (${names.join(', ')}, module) {${await readFile(file, 'utf8')}\n})`,
  ) as (...given: unknown[]) => void;
  const require = (name: string): unknown => {
    if (!(name in offered)) throw new Error(`module not found: ${name}`);
    return offered[name];
  };
  run(require, {}, Buffer, setImmediate, clearImmediate, {}, { exports: {} });
  await bridgeOf(exposed).workKept({});
  expect(invoked).toEqual(['workKept']);
  // What crosses to the page may be functions and plain values; nothing is a class or a symbol.
  for (const [name, value] of Object.entries(bridgeOf(exposed)))
    expect([name, typeof value]).toEqual([name, 'function']);
});
