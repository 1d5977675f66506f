import type { CustomScheme, Protocol } from 'electron';
import { asset } from './assets';

const scheme = 'app';
const host = 'evenrack';

/** The page that the window shows. */
export const homeUrl = `${scheme}://${host}/index.html`;

/** To be registered before Electron is ready; gives the pages an origin of their own. */
export const appScheme: CustomScheme = {
  scheme,
  privileges: { standard: true, secure: true, supportFetchAPI: true },
};

/** Whether an address belongs to the app; pages of any other origin are never trusted. */
export function isOurs(url: string): boolean {
  if (!URL.canParse(url)) return false;
  const { protocol, hostname } = new URL(url);
  return protocol === `${scheme}:` && hostname === host;
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
