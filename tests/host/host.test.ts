import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { createBridge } from '../../electron/bridge';
import { answer } from '../../electron/services/window/ipc';
import { desktopHost } from '../../renderer/host/desktop';
import { fileName } from '../../renderer/host/fileName';
import { Refusal } from '../../renderer/words';
import { testShell } from '../electron/testShell';
import type { TestShell } from '../electron/testShell';
import { tempFolder } from '../electron/tempFolder';

const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';
type Listener = (payload: unknown) => void;

/** The desktop host over the real bridge and the real handlers; only the transport is a call. */
function hostOver(desk: TestShell): {
  host: ReturnType<typeof desktopHost>;
  tell: (event: string, payload: unknown) => void;
  sent: string[];
} {
  const listeners = new Map<string, Set<Listener>>();
  const sent: string[] = [];
  const bridge = createBridge(
    (channel, request) => {
      sent.push(channel);
      return answer(desk.handlers, channel, structuredClone(request));
    },
    (event, listener) => {
      const heard = listeners.get(event) ?? new Set<Listener>();
      listeners.set(event, heard.add(listener));
      return () => heard.delete(listener);
    },
  );
  const tell = (event: string, payload: unknown): void =>
    listeners.get(event)?.forEach((listener) => listener(payload));
  return { host: desktopHost(bridge), tell, sent };
}

test('save, recover and forget through bridge and handlers on a real disk', async () => {
  const folder = await tempFolder();
  const desk = testShell(folder);
  const { host } = hostOver(desk);
  desk.answers.push(join(folder, 'a.evenrack'));
  const ref = await host.saveAs('a.evenrack', 'one', copy);
  if (!ref) throw new Error('not saved');
  const saved = await host.save(ref, 'two', copy);
  expect(await readFile(ref.key, 'utf8')).toBe('two');
  if (saved.kind !== 'saved') throw new Error('not saved');
  await host.keepForRecovery(copy, 'three', saved.ref);
  expect(await host.recoveries()).toMatchObject([
    { copy, kept: { text: 'three', ref: saved.ref } },
  ]);
  await host.forgetRecovery(copy);
  expect(await host.recoveries()).toEqual([]);
  expect(await host.holdFile(saved.ref)).toBe(true);
  expect((await host.recentPlans()).map((recent) => recent.ref.key)).toEqual([ref.key]);
});

test('bytes of an export arrive on the disk as they are, more than one call can take', async () => {
  const folder = await tempFolder();
  const desk = testShell(folder);
  const { host } = hostOver(desk);
  const path = join(folder, 'a.csv');
  desk.answers.push(path);
  const bytes = Uint8Array.from({ length: 200_000 }, (_, i) => i % 256);
  expect(await host.exportText('a.csv', 'csv', bytes)).toBe(true);
  expect(Buffer.compare(await readFile(path), bytes)).toBe(0);
});

test.each([
  ['a plain name', 'Basil, spring.evenrack', 'Basil, spring.evenrack'],
  ['signs that some disks refuse', 'a/b: "c"?.csv', 'a b c.csv'],
  ['a device of Windows', 'CON.evenrack', 'plan CON.evenrack'],
  ['nothing but an ending', '  .evenrack', 'plan.evenrack'],
  ['dots and spaces at the end', 'trial. .evenrack', 'trial.evenrack'],
  ['a name of 200 bytes', `${'ü'.repeat(100)}.csv`, `${'ü'.repeat(100)}.csv`],
  ['a longer one', `${'ü'.repeat(500)}.csv`, `${'ü'.repeat(100)}.csv`],
])('suggests a name that every disk takes: %s', (_what, suggested, name) => {
  expect(fileName(suggested)).toBe(name);
});

test('what a person can mend arrives as a refusal in the words of the shell', async () => {
  const { host } = hostOver(testShell(await tempFolder()));
  await expect(host.save({ key: '/x', name: 'x', seen: null }, '', copy)).rejects.toEqual(
    new Refusal('/x: was not chosen in this window; open it or save under a name first'),
  );
});

test('a mistake arrives as it is', async () => {
  const desk = testShell(await tempFolder());
  const mistake = new TypeError('x is undefined');
  const handlers = { ...desk.handlers, recentPlans: () => Promise.reject(mistake) };
  const { host } = hostOver({ ...desk, handlers });
  await expect(host.recentPlans()).rejects.toBe(mistake);
});

test('says that it listens once, then passes open requests and failures on until stopped', async () => {
  const { host, tell, sent } = hostOver(testShell(await tempFolder()));
  const opened: string[] = [];
  const failed: string[] = [];
  const stop = host.onOpenRequest(
    ({ text }) => opened.push(text),
    (message) => failed.push(message),
  );
  host.onOpenRequest(() => undefined);
  expect(sent).toEqual(['listening']);
  tell('openRequest', { text: 'plan', ref: { key: '/a', name: 'a' } });
  tell('openFailed', '/b: cannot be read');
  stop();
  tell('openRequest', { text: 'later', ref: { key: '/a', name: 'a' } });
  expect(opened).toEqual(['plan']);
  expect(failed).toEqual(['/b: cannot be read']);
});
