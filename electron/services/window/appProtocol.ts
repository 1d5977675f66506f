import type { CustomScheme, Protocol } from 'electron';
import { asset } from '../assets';

const scheme = 'app';
const host = 'evenrack';

/** The page that the window shows. */
export const homeUrl = `${scheme}://${host}/index.html`;

/** To be registered before Electron is ready; gives the pages an origin of their own. */
export const appScheme: CustomScheme = {
  scheme,
  // The compiled code of scripts is kept, as a browser keeps it for http.
  privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true },
};

/**
 * Whether an address belongs to the app, however its scheme and host are spelt; pages of any other
 * origin are never trusted. A port or a name before the host makes it another's: ours has none.
 */
export function isOurs(url: string): boolean {
  return isOfOrigin(url, scheme, host);
}

export function isOfOrigin(url: string, ownScheme: string, ownHost: string): boolean {
  // An address of ours is short; a parser drops line breaks and tabs, so that they could hide in it.
  if (/[\s\\]/.test(url) || !URL.canParse(url)) return false;
  const { protocol, hostname, port, username, password } = new URL(url);
  return (
    protocol === `${ownScheme}:` &&
    hostname.toLowerCase() === ownHost &&
    port + username + password === ''
  );
}

/** Serves the built renderer under the app's own scheme. */
export function serveApp(protocol: Pick<Protocol, 'handle'>, folder: string): void {
  protocol.handle(scheme, async (request) => {
    if (!isOurs(request.url) || request.method !== 'GET')
      return new Response(null, { status: 403 });
    const { status, headers, body } = await asset(folder, new URL(request.url).pathname);
    return new Response(body, { status, headers });
  });
}
