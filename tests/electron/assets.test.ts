import files from 'node:fs/promises';
import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { serveHere } from '../../electron/loopback';
import { serveRenderer } from '../../electron/serve';
import { serveApp } from '../../electron/services/window/appProtocol';
import { asset } from '../../electron/services/assets';
import { printHeaders } from '../../electron/services/policies';
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

test.each(['/..\\secret.txt', '/..%5csecret.txt', '/index.html%00.js', '/%', '/%c0%ae'])(
  'looks for no file of the name %s, which means another on some systems',
  async (pathname) => {
    const { folder } = await builtRenderer();
    expect((await asset(folder, pathname)).status).toBe(400);
  },
);

test('files are read by what Electron puts in place of the functions of Node', async () => {
  // A packaged page stands in an archive, which Node itself cannot read.
  vi.spyOn(files, 'realpath').mockImplementation((path) => Promise.resolve(String(path)));
  vi.spyOn(files, 'readFile').mockResolvedValue(Buffer.from('from the archive'));
  const { status, body } = await asset('/app.asar/out/renderer', '/');
  vi.restoreAllMocks();
  expect([status, Buffer.from(body).toString()]).toEqual([200, 'from the archive']);
});

test('every answer keeps pages elsewhere from framing, opening and reading it', async () => {
  const { folder } = await builtRenderer();
  const page = (await asset(folder, '/')).headers;
  const kept = {
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    'referrer-policy': 'no-referrer',
  };
  expect(page).toMatchObject(kept);
  expect((await asset(folder, '/none.js')).headers).toMatchObject(kept);
  const policy = page['content-security-policy'] ?? '';
  expect(policy.split('; ')).toEqual(expect.arrayContaining(["frame-ancestors 'none'"]));
  expect(policy).toContain("script-src 'self';");
  // A document to be printed runs nothing, leads nowhere and loads nothing.
  const printed = printHeaders['content-security-policy'].split('; ');
  expect(printed).toEqual(
    expect.arrayContaining(["default-src 'none'", "frame-ancestors 'none'", 'sandbox']),
  );
  expect(printed.join()).not.toContain('script');
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
    const say = (path: string, host: string, more = ''): Promise<string> =>
      new Promise((resolve, reject) => {
        const socket = connect(Number(port), '127.0.0.1', () =>
          socket.write(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\n${more}Connection: close\r\n\r\n`),
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
    for (const spelling of [`a@127.0.0.1:${port}`, `127.0.0.1:${port}@a`, `[::1]:${port}`, '']) {
      expect(await say('/', spelling)).toContain('HTTP/1.1 4');
    }
    // By what browsers say of who asks: a page of ours, a link elsewhere, a page or frame elsewhere.
    const asks = (site: string, mode: string, dest: string): Promise<string> =>
      say(
        '/',
        `127.0.0.1:${port}`,
        `Sec-Fetch-Site: ${site}\r\nSec-Fetch-Mode: ${mode}\r\nSec-Fetch-Dest: ${dest}\r\n`,
      );
    expect(await asks('same-origin', 'cors', 'script')).toContain('home');
    expect(await asks('none', 'navigate', 'document')).toContain('home');
    expect(await asks('cross-site', 'navigate', 'document')).toContain('home');
    expect(await asks('cross-site', 'no-cors', 'script')).toContain('403 Forbidden');
    expect(await asks('same-site', 'cors', 'empty')).toContain('403 Forbidden');
    expect(await asks('cross-site', 'navigate', 'iframe')).toContain('403 Forbidden');
    expect(await say('/../secret.txt', `127.0.0.1:${port}`)).not.toContain('secret');
    expect(await say('http://[', `127.0.0.1:${port}`)).toContain('HTTP/1.1 4');
    expect(await endless(Number(port))).toBeLessThan(20_000_000);
    // Still there after the malformed one.
    expect((await fetch(served.url)).status).toBe(200);
  } finally {
    await served.close();
  }
});

test('who says a request slowly, or nothing, is hung up on and holds up nobody', async () => {
  const served = await serveHere(
    () => Promise.resolve({ status: 200, headers: {}, body: 'home' }),
    0,
    300,
  );
  const port = Number(new URL(served.url).port);
  const hungUp = (says: string): Promise<unknown> =>
    new Promise((resolve) => {
      const socket = connect(port, '127.0.0.1', () => socket.write(says));
      socket.on('error', () => undefined);
      socket.on('data', () => undefined);
      socket.on('close', resolve);
    });
  try {
    const slow = Array.from({ length: 50 }, (_, i) => hungUp(i % 2 ? 'GET / HT' : ''));
    expect(await (await fetch(served.url)).text()).toBe('home');
    await Promise.all(slow);
  } finally {
    await served.close();
  }
});

/** Sends a body without an end; gives how many bytes went out before the server hung up. */
function endless(port: number): Promise<number> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    const part = 'x'.repeat(65_536);
    const send = (): void => {
      while (!socket.destroyed && socket.write(`10000\r\n${part}\r\n`));
    };
    socket.write(
      `POST / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nTransfer-Encoding: chunked\r\n\r\n`,
    );
    send();
    socket.on('drain', send);
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(socket.bytesWritten));
  });
}
