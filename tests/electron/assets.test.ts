import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { serveRenderer } from '../../electron/serve';
import { serveApp } from '../../electron/services/window/appProtocol';
import { asset } from '../../electron/services/assets';
import { tempFolder } from './tempFolder';

async function builtRenderer(): Promise<{ folder: string; outside: string }> {
  const root = await tempFolder();
  const folder = join(root, 'renderer');
  await mkdir(join(folder, 'assets'), { recursive: true });
  await writeFile(join(folder, 'index.html'), '<p>home</p>');
  await writeFile(join(folder, 'assets', 'app.js'), 'export {};');
  const outside = join(root, 'secret.txt');
  await writeFile(outside, 'secret');
  // A neighbour whose path begins like the app's own.
  await mkdir(`${folder}-old`);
  await writeFile(join(`${folder}-old`, 'index.html'), 'secret');
  return { folder, outside };
}

test('serves the page and its parts with their type and the policy', async () => {
  const { folder } = await builtRenderer();
  const home = await asset(folder, '/');
  expect(home.status).toBe(200);
  expect(Buffer.from(home.body).toString()).toBe('<p>home</p>');
  expect(home.headers['content-type']).toBe('text/html; charset=utf-8');
  expect(home.headers['content-security-policy']).toContain("script-src 'self';");
  expect(home.headers['content-security-policy']).not.toContain('unsafe-eval');
  const script = await asset(folder, '/assets/app.js');
  expect(script.headers['content-type']).toBe('text/javascript; charset=utf-8');
  // What is named by its content may be kept; the page that names it is asked for again.
  expect(script.headers['cache-control']).toContain('immutable');
  expect(home.headers['cache-control']).toBe('no-cache');
});

test.each([
  '/../secret.txt',
  '/%2e%2e/secret.txt',
  '/..%2fsecret.txt',
  '/assets/../../secret.txt',
  '/..\\secret.txt',
  '/../renderer-old/index.html',
  '/link.txt',
  '/index.html%00.js',
  '/%',
  '/assets',
  '/none.js',
])('gives nothing for %s', async (pathname) => {
  const { folder, outside } = await builtRenderer();
  await symlink(outside, join(folder, 'link.txt'));
  const { status, body } = await asset(folder, pathname);
  expect(status).toBeGreaterThanOrEqual(400);
  expect(Buffer.from(body).toString()).not.toContain('secret');
});

test('the app scheme serves our host by GET and refuses everything else', async () => {
  const { folder } = await builtRenderer();
  let handle: ((request: Request) => Response | Promise<Response>) | undefined;
  serveApp({ handle: (_scheme, handler) => void (handle = handler as typeof handle) }, folder);
  const status = async (url: string, method = 'GET'): Promise<number | undefined> =>
    // Node refuses to build a Request for a scheme of our own, which only has to be read here.
    (await handle?.({ url, method } as Request))?.status;
  expect(await status('app://evenrack/index.html')).toBe(200);
  expect(await status('app://other/index.html')).toBe(403);
  expect(await status('app://evenrack/index.html', 'POST')).toBe(403);
  expect(await status('app://evenrack/%2e%2e%2fsecret.txt')).toBe(403);
});

test('the loopback server answers under its own name only, and is not reached from outside', async () => {
  const { folder } = await builtRenderer();
  const served = await serveRenderer(folder);
  try {
    const { port } = new URL(served.url);
    const say = (path: string, host: string): Promise<string> =>
      new Promise((resolve, reject) => {
        const socket = connect(Number(port), '127.0.0.1', () =>
          socket.write(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`),
        );
        let text = '';
        socket.on('data', (part) => (text += String(part)));
        socket.on('end', () => resolve(text));
        socket.on('error', reject);
      });
    expect(await (await fetch(served.url)).text()).toBe('<p>home</p>');
    expect((await fetch(served.url, { method: 'POST' })).status).toBe(405);
    // Another spelling of the address would keep another set of unsaved work.
    const spelt = await fetch(`http://localhost:${port}/index.html`);
    expect(spelt.url).toBe(`http://127.0.0.1:${port}/index.html`);
    expect(await say('/', `localhost:${port}`)).toContain(`location: http://127.0.0.1:${port}/`);
    expect(await say('/', '127.0.0.1:1')).toContain('403 Forbidden');
    expect(await say('/', `127.0.0.1:${port}`)).toContain('home');
    expect(await say('/', 'attacker.example')).toContain('403 Forbidden');
    expect(await say('//attacker.example/', `127.0.0.1:${port}`)).toContain('403 Forbidden');
    expect(await say('/../secret.txt', `127.0.0.1:${port}`)).not.toContain('secret');
    expect(await say('http://[', `127.0.0.1:${port}`)).toContain('HTTP/1.1 4');
    // Still there after the malformed one.
    expect((await fetch(served.url)).status).toBe(200);
  } finally {
    await served.close();
  }
});
