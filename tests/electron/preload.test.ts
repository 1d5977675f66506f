import { expect, test, vi } from 'vitest';
import type { Bridge } from '../../shared-types/window/ipc';
import { channelNames } from '../../shared-types/window/ipcNames';

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
