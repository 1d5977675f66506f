import { createServer } from 'node:http';
import type { IncomingMessage, Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { asset } from './services/assets';

export interface Served {
  readonly url: string;
  close(): Promise<void>;
}

/**
 * Serves the built renderer to this machine alone, with the same policy as the desktop window.
 * `port` 0 takes any free one.
 */
export async function serveRenderer(folder: string, port = 0): Promise<Served> {
  const server = createServer((request, response) => {
    const pathname = pathAskedFor(request);
    if (pathname === null) {
      response.writeHead(403).end();
      return;
    }
    void asset(folder, pathname).then(({ status, headers, body }) => {
      response.writeHead(status, headers).end(request.method === 'HEAD' ? undefined : body);
    });
  });
  await listen(server, port);
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** The path that is asked for; null where the request is none of ours. */
function pathAskedFor({ url, method, headers }: IncomingMessage): string | null {
  if (method !== 'GET' && method !== 'HEAD') return null;
  const base = `http://${headers.host ?? ''}`;
  if (!URL.canParse(url ?? '/', base)) return null;
  const { hostname, pathname } = new URL(url ?? '/', base);
  // A page elsewhere whose name has been pointed at this machine gets nothing.
  return hostname === '127.0.0.1' || hostname === 'localhost' ? pathname : null;
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
}
