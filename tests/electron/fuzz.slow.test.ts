import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { serveRenderer } from '../../electron/serve';
import { answer } from '../../electron/services/window/ipc';
import { isOurs } from '../../electron/services/window/appProtocol';
import { channelNames } from '../../shared-types/window/ipcNames';
import { testShell } from './testShell';
import { tempFolder } from './tempFolder';

const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';
const seen = 'a'.repeat(64);

test('4,000 messages of any kind: each is answered, and no file is touched that nobody chose', async () => {
  const outside = await tempFolder();
  const victim = join(outside, 'victim.evenrack');
  await writeFile(victim, 'theirs');
  const folder = await tempFolder();
  const shell = testShell(folder);
  // Whoever is asked for a file cancels.
  shell.answers.push(...Array.from({ length: 20_000 }, () => null));
  const path = fc.constantFrom(victim, outside, '/etc/passwd', '../x', 'C:\\x', '\0', folder);
  const ref = fc.record({
    key: path,
    name: fc.constantFrom('a', '', '../a'),
    seen: fc.constantFrom(null, seen, 'x'),
  });
  const known = {
    kind: fc.constantFrom('plan', 'table', 'csv', '__proto__', 3),
    ref: fc.oneof(ref, fc.constant(null), fc.anything()),
    text: fc.oneof(fc.string(), fc.anything()),
    copy: fc.oneof(fc.constantFrom(copy, '../../a', '', `${copy}/..`), fc.anything()),
    suggestedName: fc.constantFrom('a', '', '/etc/passwd', '../../x', 'x'.repeat(300)),
    html: fc.string(),
    unsaved: fc.boolean(),
    details: fc.string(),
    bytes: fc.constantFrom(true, false, undefined),
  };
  const request = fc.oneof(
    { weight: 3, arbitrary: fc.record(known, { requiredKeys: [] }) },
    { weight: 1, arbitrary: fc.anything({ withNullPrototype: true, withBigInt: true }) },
  );
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...channelNames), request, async (channel, given) => {
      const told = await answer(shell.handlers, channel, given);
      expect(told.ok === true || typeof told.message === 'string').toBe(true);
    }),
    { numRuns: 4000, seed: 20 },
  );
  expect(await readdir(outside)).toEqual(['victim.evenrack']);
  const made = await readdir(folder);
  expect(
    made.filter((name) => !['recovery', 'open', 'errors.log', 'errors.log.1'].includes(name)),
  ).toEqual([]);
  for (const name of await readdir(join(folder, 'recovery')))
    expect(name).toMatch(/^[0-9a-f-]{36}\.json$/);
});

test('4,000 spellings of an address: none counts as ours that leads elsewhere', () => {
  const part = fc.constantFrom(
    ...['app', 'APP', 'evenrack', 'EvenRack', ':', '//', '/', '\\', '@', '.', '#', '?', '%65', ' '],
    ...['\n', '\t', 'https', 'file', 'index.html', '80', 'example.org', 'ａ', '\u202e', 'blob:'],
  );
  fc.assert(
    fc.property(fc.array(part, { maxLength: 9 }), (parts) => {
      const url = parts.join('');
      if (isOurs(url)) expect(url).toMatch(/^app:\/\/evenrack([/?#][^\s\\]*)?$/i);
    }),
    { numRuns: 4000, seed: 20 },
  );
  expect(isOurs('app://evenrack/index.html')).toBe(true);
});

test('1,500 requests of any kind to the loopback server: none gets what it may not, and it lives on', async () => {
  const root = await tempFolder();
  await writeFile(join(root, 'secret.txt'), 'SECRET');
  const folder = join(root, 'renderer');
  await mkdir(folder);
  await writeFile(join(folder, 'index.html'), 'home');
  const served = await serveRenderer(folder);
  const port = Number(new URL(served.url).port);
  const say = (text: string): Promise<string> =>
    new Promise((resolve) => {
      const socket = connect(port, '127.0.0.1', () => socket.end(text, 'latin1'));
      let heard = '';
      socket.on('data', (data) => (heard += data.toString('latin1')));
      socket.on('close', () => resolve(heard));
      socket.on('error', () => undefined);
    });
  const piece = fc.constantFrom(
    ...['/', '..', '%2e%2e', '%2f', '\\', '%5c', 'secret.txt', 'index.html', '%00', '%', '?', '#'],
    ...['//', 'http://', '127.0.0.1', '@', ';', '%c0%ae', '\xff', 'a'.repeat(3000)],
  );
  const request = fc.record({
    method: fc.constantFrom('GET', 'HEAD', 'POST', 'PUT', 'TRACE', 'OPTIONS', 'get', '\x00'),
    path: fc.array(piece, { maxLength: 6 }).map((parts) => parts.join('')),
    host: fc.constantFrom(
      `127.0.0.1:${port}`,
      `localhost:${port}`,
      'example.org',
      '',
      '[::1]',
      '127.0.0.1:1',
    ),
    more: fc.constantFrom(
      '',
      'Content-Length: 5\r\n',
      'Transfer-Encoding: chunked\r\n',
      'X: \x00\r\n',
    ),
  });
  try {
    await fc.assert(
      fc.asyncProperty(request, async ({ method, path, host, more }) => {
        const heard = await say(
          `${method} ${path || '/'} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n${more}\r\n`,
        );
        expect(heard).not.toContain('SECRET');
        if (heard.includes('home')) {
          expect({ method, host }).toEqual({ method: 'GET', host: `127.0.0.1:${port}` });
          expect(heard).toContain("frame-ancestors 'none'");
        }
      }),
      { numRuns: 1500, seed: 20 },
    );
    expect(await (await fetch(served.url)).text()).toBe('home');
  } finally {
    await served.close();
  }
});
