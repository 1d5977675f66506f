import { randomUUID } from 'node:crypto';
import type {
  BrowserWindowConstructorOptions,
  CustomScheme,
  Protocol,
  Session,
  WebContents,
} from 'electron';
import { printPolicy } from '../assets';
import { FileTrouble } from '../files/fileTrouble';
import { isOfOrigin } from './appProtocol';
import type { PagePrinter } from './pages';
import { confineSession, isInPage } from './windowPolicy';

const scheme = 'evenrack-print';
const host = 'page';
/** In memory alone: its name does not begin with `persist:`. */
const partition = 'print';

/** To be registered before Electron is ready; each document has an origin of the scheme's own. */
export const printScheme: CustomScheme = { scheme, privileges: { standard: true, secure: true } };

/** Documents to be printed come from the plan and run no script at all. */
export function printWindowOptions(): BrowserWindowConstructorOptions {
  return {
    show: false,
    webPreferences: {
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      javascript: false,
      devTools: false,
      partition,
    },
  };
}

/** A window that nobody sees, as far as printing needs it. */
export interface HiddenWindow {
  readonly webContents: Pick<WebContents, 'print' | 'printToPDF'>;
  loadURL(url: string): Promise<void>;
  destroy(): void;
}

/**
 * Prints through a hidden window that is opened for one document and closed after it. The document
 * never touches the disk: it is served from memory, with its policy in the header of the answer.
 */
export function windowPrinter(
  open: () => HiddenWindow,
  session: { readonly protocol: Pick<Protocol, 'handle'> } & Parameters<typeof confineSession>[0],
): PagePrinter {
  const documents = new Map<string, string>();
  confineSession(session, [], (url) => isInPage(url) || isOfOrigin(url, scheme, host));
  session.protocol.handle(scheme, (request) => answerWith(documents, request));

  async function withPage<T>(html: string, use: (window: HiddenWindow) => Promise<T>): Promise<T> {
    const path = `/${randomUUID()}`;
    documents.set(path, html);
    const window = open();
    try {
      await window.loadURL(`${scheme}://${host}${path}`);
      return await use(window);
    } finally {
      documents.delete(path);
      window.destroy();
    }
  }

  return {
    print: (html) =>
      withPage(html, ({ webContents }) => {
        return new Promise<void>((resolve, reject) => {
          webContents.print({ printBackground: true }, (done, reason) => {
            if (done || /cancel/i.test(reason)) resolve();
            else reject(new FileTrouble(`printing failed: ${reason}`));
          });
        });
      }),
    pdf: (html) =>
      withPage(html, ({ webContents }) =>
        webContents.printToPDF({
          ...{ preferCSSPageSize: true, printBackground: true },
          // For who reads with ears, and to find one's way in a report.
          ...{ generateTaggedPDF: true, generateDocumentOutline: true },
        }),
      ),
  };
}

/** The session in which documents are printed. */
export function printSession(sessions: { fromPartition(name: string): Session }): Session {
  return sessions.fromPartition(partition);
}

function answerWith(
  documents: ReadonlyMap<string, string>,
  { url, method }: Pick<Request, 'url' | 'method'>,
): Response {
  const html = isOfOrigin(url, scheme, host) ? documents.get(new URL(url).pathname) : undefined;
  if (html === undefined || method !== 'GET') return new Response(null, { status: 404 });
  return new Response(html, { headers: printHeaders });
}

/** With these a document to be printed is answered. */
export const printHeaders = {
  'content-type': 'text/html; charset=utf-8',
  'content-security-policy': printPolicy,
  'x-content-type-options': 'nosniff',
};
