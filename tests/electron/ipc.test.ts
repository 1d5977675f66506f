import type { IpcMain, IpcMainInvokeEvent } from 'electron';
import { expect, test } from 'vitest';
import { isOurs } from '../../electron/services/window/appProtocol';
import { answer, listenForRequests } from '../../electron/services/window/ipc';
import { ipcChannels, ipcEvents } from '../../shared-types/window/ipc';
import { channelNames, eventNames } from '../../shared-types/window/ipcNames';
import { testShell } from './testShell';
import { tempFolder } from './tempFolder';

type Listener = Parameters<IpcMain['handle']>[1];

async function listening(): Promise<{
  shell: ReturnType<typeof testShell>;
  send: (
    channel: string,
    request: unknown,
    url: string,
    inFrame?: boolean,
    origin?: string,
  ) => Promise<unknown>;
}> {
  const shell = testShell(await tempFolder());
  const listeners = new Map<string, Listener>();
  listenForRequests(
    { handle: (channel, listener) => void listeners.set(channel, listener) },
    shell.handlers,
    isOurs,
    () => false,
  );
  expect([...listeners.keys()]).toEqual([...channelNames]);
  const send = async (
    channel: string,
    request: unknown,
    url: string,
    inFrame = false,
    origin = 'app://evenrack',
  ): Promise<unknown> => {
    const senderFrame = { url, origin, parent: inFrame ? {} : null, isDestroyed: () => false };
    return listeners.get(channel)?.({ senderFrame } as IpcMainInvokeEvent, request);
  };
  return { shell, send };
}

const home = 'app://evenrack/index.html';
const ref = { key: '/a', name: 'a', seen: null };
const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';

test('answers the main frame of our own page', async () => {
  const { shell, send } = await listening();
  expect(await send('setUnsaved', { unsaved: true }, home)).toEqual({ ok: true, value: null });
  expect(shell.unsaved).toEqual([true]);
});

test.each([
  'app://evenrack/',
  'app://evenrack',
  'APP://EvenRack/index.html',
  'app://evenrack/index.html?a#b',
])('takes every spelling of its own origin: %s', async (url) => {
  const { send } = await listening();
  expect(await send('setUnsaved', { unsaved: true }, url)).toEqual({ ok: true, value: null });
});

test.each([
  'https://example.org/index.html',
  'https://evenrack/index.html',
  'app://other/index.html',
  'app://evenrack.example/index.html',
  'app://evenrack./index.html',
  'app://evenrack:80/index.html',
  'app://evenrack@other/index.html',
  'app://other@evenrack/index.html',
  'app://ev%65nrack/index.html',
  'app:\\\\evenrack/index.html',
  'app://even\nrack/index.html',
  'appx://evenrack/index.html',
  'blob:app://evenrack/index.html',
  'file:///index.html',
  'file://evenrack/index.html',
  'app:evenrack',
  'about:blank',
  'about:srcdoc',
  '',
])('refuses a message from %s', async (url) => {
  const { shell, send } = await listening();
  expect(await send('setUnsaved', { unsaved: true }, url)).toEqual({
    ok: false,
    message: 'setUnsaved: refused, this page is not part of Evenrack',
  });
  expect(shell.unsaved).toEqual([]);
});

test('bytes to be exported are one a sign; any other sign is refused', async () => {
  const { send } = await listening();
  const request = { suggestedName: 'a.csv', kind: 'csv', text: '3 €', bytes: true };
  expect(await send('exportText', request, home)).toEqual({
    ok: false,
    message: 'exportText.text: found a sign that is no byte; one byte a sign is expected',
  });
});

test.each(['null', 'https://example.org', 'app://other', ''])(
  'refuses a page at our address whose origin is another: %j',
  async (origin) => {
    const { shell, send } = await listening();
    const told = await send('setUnsaved', { unsaved: true }, home, false, origin);
    expect(told).toMatchObject({ ok: false });
    expect(shell.unsaved).toEqual([]);
  },
);

test('refuses a frame inside our page', async () => {
  const { shell, send } = await listening();
  expect(await send('setUnsaved', { unsaved: true }, home, true)).toMatchObject({ ok: false });
  expect(shell.unsaved).toEqual([]);
});

test.each([
  ['save', { ref, copy }, /^save\.text: /],
  ['save', { ref: '/etc/passwd', text: '', copy }, /^save\.ref: /],
  ['save', { ref: { ...ref, mode: 0o777 }, text: '', copy }, /^save\.ref: /],
  ['save', { ref: { ...ref, seen: 'new' }, text: '', copy }, /^save\.ref\.seen: /],
  ['keepForRecovery', { copy: '../../a', text: '', ref: null }, /^keepForRecovery\.copy: /],
  ['forgetRecovery', { copy: '..' }, /^forgetRecovery\.copy: /],
  ['holdFile', { ref: '/a' }, /^holdFile\.ref: /],
  ['open', { kind: 'anything' }, /^open\.kind: /],
  ['open', null, /^open: /],
  ['setUnsaved', { unsaved: 'yes' }, /^setUnsaved\.unsaved: /],
  ['exportText', { suggestedName: '', kind: 'csv', text: '' }, /^exportText\.suggestedName: /],
] as const)('refuses a payload that breaks the contract: %s %j', async (channel, request, says) => {
  // No dialogue answer is prepared: a handler that were reached would throw something else.
  const { send } = await listening();
  expect(await send(channel, request, home)).toEqual({
    ok: false,
    message: expect.stringMatching(says) as string,
  });
});

test('an error in a handler travels as its sentence', async () => {
  const shell = testShell(await tempFolder());
  const request = { ref: { ...ref, key: '/nowhere/a' }, text: '', copy };
  expect(await answer(shell.handlers, 'save', request)).toEqual({
    ok: false,
    message: '/nowhere/a: was not chosen in this window; open it or save under a name first',
  });
});

test('a failure of the system travels in words, without its code', async () => {
  const shell = testShell(await tempFolder());
  const failing = Object.assign(new Error("EPERM: operation not permitted, open '/a'"), {
    code: 'EPERM',
    path: '/a',
  });
  const handlers = { ...shell.handlers, recentPlans: () => Promise.reject(failing) };
  expect(await answer(handlers, 'recentPlans', {})).toEqual({
    ok: false,
    message: '/a: this account may not use it',
  });
});

test('a mistake of a handler is no sentence for the person', async () => {
  const shell = testShell(await tempFolder());
  const mistake = new TypeError('x is undefined');
  const handlers = { ...shell.handlers, recentPlans: () => Promise.reject(mistake) };
  await expect(answer(handlers, 'recentPlans', {})).rejects.toBe(mistake);
});

test('an answer that breaks the contract never reaches the page', async () => {
  const shell = testShell(await tempFolder());
  const loose = { ref: { ...ref, mode: 0o777 }, openedAt: 'yesterday' };
  const handlers = { ...shell.handlers, recentPlans: () => Promise.resolve([loose]) };
  await expect(answer(handlers, 'recentPlans', {})).rejects.toThrow('openedAt');
});

test('the names and the schemas are the same list', () => {
  expect(Object.keys(ipcChannels)).toEqual([...channelNames]);
  expect(Object.keys(ipcEvents)).toEqual([...eventNames]);
});
