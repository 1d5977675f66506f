import { createServer } from 'node:http';
import type { IncomingMessage, Server } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface Served {
  readonly url: string;
  close(): Promise<void>;
}

export interface Reply {
  readonly status: number;
  readonly headers: Record<string, string>;
  readonly body: Uint8Array | string;
}

/** A request of ours is a few lines, and comes whole; who says it slowly is hung up on. */
const LONGEST_REQUEST_MS = 10_000;
const MOST_CONNECTIONS = 200;

/** By this a second start knows the first. */
const named = { server: 'evenrack' };

/**
 * Serves to this machine alone what `replyTo` gives for the path of an address. `port` 0 takes any
 * free one.
 */
export async function serveHere(
  replyTo: (pathname: string) => Promise<Reply>,
  port = 0,
  within = LONGEST_REQUEST_MS,
): Promise<Served> {
  const limits = {
    maxHeaderSize: 16_384,
    headersTimeout: within,
    requestTimeout: within,
    connectionsCheckingInterval: within / 5,
  };
  const server = createServer(limits, (request, response) => {
    const asked = whatIsAsked(request);
    if ('refused' in asked) {
      // Whatever else it would send is not read.
      response.writeHead(asked.refused, { ...named, connection: 'close' }).end();
      return;
    }
    if ('instead' in asked) {
      response.writeHead(308, { ...named, location: asked.instead }).end();
      return;
    }
    void replyTo(asked.pathname).then(({ status, headers, body }) => {
      response
        .writeHead(status, { ...headers, ...named })
        .end(request.method === 'HEAD' ? undefined : body);
    });
  });
  server.maxConnections = MOST_CONNECTIONS;
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

type Asked = { pathname: string } | { instead: string } | { refused: number };

/** What a request asks for, where it is one of ours. */
function whatIsAsked({ url = '/', method, headers, socket }: IncomingMessage): Asked {
  if (method !== 'GET' && method !== 'HEAD') return { refused: 405 };
  const base = `http://${headers.host ?? ''}`;
  // The path alone: an address in full would name a host by itself.
  if (!url.startsWith('/') || url.startsWith('//')) return { refused: 403 };
  if (!URL.canParse(url, base)) return { refused: 400 };
  const { hostname, port, pathname, username, password } = new URL(url, base);
  // A page elsewhere whose name has been pointed at this machine gets nothing.
  if (Number(port || 80) !== socket.localPort || username + password !== '')
    return { refused: 403 };
  if (isOfAnotherPage(headers)) return { refused: 403 };
  if (hostname === '127.0.0.1') return { pathname };
  // What a browser keeps belongs to one spelling of the address.
  if (hostname === 'localhost') return { instead: `http://127.0.0.1:${port}${pathname}` };
  return { refused: 403 };
}

/**
 * Whether a page of another origin loads it, by what browsers say of themselves (Fetch Metadata). To go
 * to the app from a link elsewhere is allowed.
 */
function isOfAnotherPage(headers: IncomingMessage['headers']): boolean {
  const { 'sec-fetch-site': site, 'sec-fetch-mode': mode, 'sec-fetch-dest': dest } = headers;
  if (site === undefined || site === 'same-origin' || site === 'none') return false;
  return mode !== 'navigate' || dest !== 'document';
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
}
