import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import type { Host } from '../../../renderer/host';
import { test as base } from './fixtures';
import { program } from './program';

const { serveRenderer } = program;

declare global {
  interface Window {
    /** The host that the page has chosen, for tests to call. */
    testHost: Host;
  }
}

const page = `<!doctype html><html lang="en"><head><meta charset="utf-8">
<link rel="icon" href="data:,"><title>Host</title></head>
<body><h1>Host</h1><script type="module" src="./host.js"></script></body></html>`;

/**
 * Tests of the hosts alone: `appUrl` is a page that holds nothing but the host it chose, served
 * under the app's own policy.
 */
export const test = base.extend<object, { appUrl: string }>({
  appUrl: [
    async ({}, use) => {
      const folder = await mkdtemp(join(tmpdir(), 'evenrack-host-'));
      await writeFile(join(folder, 'index.html'), page);
      await build({
        stdin: {
          contents: `import { chooseHost } from './renderer/host'; window.testHost = chooseHost(window);`,
          resolveDir: join(import.meta.dirname, '..', '..', '..'),
        },
        bundle: true,
        format: 'esm',
        outfile: join(folder, 'host.js'),
        logLevel: 'error',
      });
      const served = await serveRenderer(folder);
      await use(served.url);
      await served.close();
      await rm(folder, { recursive: true });
    },
    { scope: 'worker' },
  ],
});
