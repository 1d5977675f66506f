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
    const asked = whatIsAsked(request);
    if ('refused' in asked) {
      response.writeHead(asked.refused, named).end();
      return;
    }
    if ('instead' in asked) {
      response.writeHead(308, { ...named, location: asked.instead }).end();
      return;
    }
    void asset(folder, asked.pathname).then(({ status, headers, body }) => {
      response
        .writeHead(status, { ...headers, ...named })
        .end(request.method === 'HEAD' ? undefined : body);
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

/** By this a second start knows the first. */
const named = { server: 'evenrack' };

type Asked = { pathname: string } | { instead: string } | { refused: number };

/** What a request asks for, where it is one of ours. */
function whatIsAsked({ url = '/', method, headers, socket }: IncomingMessage): Asked {
  if (method !== 'GET' && method !== 'HEAD') return { refused: 405 };
  const base = `http://${headers.host ?? ''}`;
  // The path alone: an address in full would name a host by itself.
  if (!url.startsWith('/') || url.startsWith('//')) return { refused: 403 };
  if (!URL.canParse(url, base)) return { refused: 400 };
  const { hostname, port, pathname } = new URL(url, base);
  // A page elsewhere whose name has been pointed at this machine gets nothing.
  if (Number(port || 80) !== socket.localPort) return { refused: 403 };
  if (hostname === '127.0.0.1') return { pathname };
  // What a browser keeps belongs to one spelling of the address.
  if (hostname === 'localhost') return { instead: `http://127.0.0.1:${port}${pathname}` };
  return { refused: 403 };
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
}
