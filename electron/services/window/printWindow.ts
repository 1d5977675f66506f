import { randomUUID } from 'node:crypto';
import type {
  BrowserWindowConstructorOptions,
  CustomScheme,
  Protocol,
  Session,
  WebContents,
} from 'electron';
import { printHeaders } from '../policies';
import { FileTrouble } from '../files/fileTrouble';
import { goneReasons } from './troubles';
import { isOfOrigin } from './appProtocol';
import type { PagePrinter } from './pages';
import { pageSizeOf } from './pageSize';
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
  readonly webContents: Pick<WebContents, 'print' | 'printToPDF' | 'once'>;
  loadURL(url: string): Promise<void>;
  isDestroyed(): boolean;
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
      return await Promise.race([
        inTime(window.loadURL(`${scheme}://${host}${path}`)).then(() => use(window)),
        endOf(window.webContents),
      ]);
    } catch (error) {
      // What Electron says has no class of its own; of a page of ours the program is not at fault.
      throw new FileTrouble(`printing failed: ${error instanceof Error ? error.message : ''}`);
    } finally {
      documents.delete(path);
      // As the program ends, it ends this window too.
      if (!window.isDestroyed()) window.destroy();
    }
  }

  return {
    print: (html) =>
      withPage(html, ({ webContents }) => {
        return new Promise<void>((resolve, reject) => {
          webContents.print({ printBackground: true, ...pageSizeOf(html) }, (done, reason) => {
            if (done || /cancel/i.test(reason)) resolve();
            else reject(new Error(reason));
          });
        });
      }),
    pdf: (html) =>
      withPage(html, ({ webContents }) =>
        inTime(
          webContents.printToPDF({
            preferCSSPageSize: true,
            printBackground: true,
            // For who reads with ears, and to find one's way in a report.
            generateTaggedPDF: true,
            generateDocumentOutline: true,
          }),
        ),
      ),
  };
}

/** Of a person at the print dialogue nothing is asked; a machine is not waited for longer than this. */
const LONGEST_MS = 120_000;

function inTime<T>(work: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const late = () => reject(new Error(`it took longer than ${LONGEST_MS / 60_000} minutes`));
    const timer = setTimeout(late, LONGEST_MS);
    work.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

/** Fails where the page goes before it is printed: nothing else would be told of it. */
function endOf(contents: Pick<WebContents, 'once'>): Promise<never> {
  return new Promise((_resolve, reject) => {
    contents.once('render-process-gone', (_event, { reason }) =>
      reject(new Error(`its page has stopped working, ${goneReasons[reason]}`)),
    );
    contents.once('destroyed', () => reject(new Error('its window was closed')));
  });
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
