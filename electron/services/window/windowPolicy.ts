import type { BrowserWindowConstructorOptions, Session, WebContents } from 'electron';
import { isOurs } from './appProtocol';

/** A page in the window has no more rights than one on the web, plus the bridge. */
export function windowOptions(
  preload: string,
  { devTools = false } = {},
): BrowserWindowConstructorOptions {
  return {
    title: 'Evenrack',
    width: 1440,
    height: 900,
    minWidth: 960,
    minHeight: 600,
    show: false,
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      spellcheck: false,
      // A file that is dropped on the window is not gone to.
      navigateOnDragDrop: false,
      devTools,
    },
  };
}

/** Keeps the window on the app's own pages: nothing else is loaded, opened or embedded. */
export function confine(contents: Pick<WebContents, 'on' | 'setWindowOpenHandler'>): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-navigate', (event) => {
    if (!isOurs(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => {
    if (!isOurs(event.url)) event.preventDefault();
  });
  contents.on('will-frame-navigate', (event) => {
    // A preview of a page to be printed stands in a frame of ours, without an address.
    if (!isOurs(event.url) && event.url !== 'about:srcdoc') event.preventDefault();
  });
  contents.on('will-attach-webview', (event) => event.preventDefault());
  // A page cannot hold up its closing unseen: the shell has asked by then.
  contents.on('will-prevent-unload', (event) => event.preventDefault());
}

type Guarded = Pick<
  Session,
  | 'on'
  | 'setPermissionRequestHandler'
  | 'setPermissionCheckHandler'
  | 'setDevicePermissionHandler'
  | 'setDisplayMediaRequestHandler'
> & { readonly webRequest: Pick<Session['webRequest'], 'onBeforeRequest'> };

type Permission = 'clipboard-sanitized-write';

/** To copy at a click. The app needs no camera, no location and no other right that a page can ask for. */
export const appPermissions: readonly Permission[] = ['clipboard-sanitized-write'];

/** Pages of a session get these rights alone, and load what `mayLoad` accepts: nothing of the network. */
export function confineSession(
  session: Guarded,
  granted: readonly Permission[],
  mayLoad: (url: string) => boolean,
): void {
  const isGranted = (permission: string): boolean => granted.some((one) => one === permission);
  session.setPermissionRequestHandler((_contents, permission, decide) =>
    decide(isGranted(permission)),
  );
  session.setPermissionCheckHandler((_contents, permission) => isGranted(permission));
  session.setDevicePermissionHandler(() => false);
  session.setDisplayMediaRequestHandler((_request, decide) => decide(null));
  // What leaves goes through a dialogue of the shell's, and no other way.
  session.on('will-download', (event) => event.preventDefault());
  session.webRequest.onBeforeRequest(({ url }, decide) => decide({ cancel: !mayLoad(url) }));
}

/** What stands in the page itself, made by the page. */
export const isInPage = (url: string): boolean => /^(data|blob):/i.test(url);
