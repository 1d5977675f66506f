import { expect, test, vi } from 'vitest';
import { FileTrouble } from '../../electron/services/files/fileTrouble';
import { windowPrinter } from '../../electron/services/window/printWindow';
import type { confineSession } from '../../electron/services/window/windowPolicy';

const noSession = {
  setPermissionRequestHandler: () => undefined,
  setPermissionCheckHandler: () => undefined,
  setDevicePermissionHandler: () => undefined,
  setDisplayMediaRequestHandler: () => undefined,
  on: () => undefined,
  webRequest: { onBeforeRequest: () => undefined },
} as unknown as Parameters<typeof confineSession>[0];

test('a document is printed from memory, by a hidden window that is gone afterwards', async () => {
  const steps: string[] = [];
  let loaded = '';
  let why = 'Print job failed';
  const cancelled: string[] = [];
  let serve: ((request: Request) => Response | Promise<Response>) | undefined;
  const session = {
    ...noSession,
    webRequest: {
      onBeforeRequest: ((hear: (details: { url: string }, decide: unknown) => void) => {
        const urls = ['https://example.org/', 'app://evenrack/index.html', 'file:///a'];
        for (const url of [...urls, 'evenrack-print://page/1', 'data:,a'])
          hear({ url }, ({ cancel }: { cancel: boolean }) => cancel && cancelled.push(url));
      }) as never,
    },
    protocol: { handle: (_scheme: string, handler: never) => void (serve = handler) },
  };
  const get = async (url: string, method = 'GET'): Promise<Response | undefined> =>
    serve?.({ url, method } as Request);
  let policy: string | null | undefined;
  const printer = windowPrinter(
    () => ({
      async loadURL(url) {
        const answer = await get(url);
        loaded = (await answer?.text()) ?? '';
        policy = answer?.headers.get('content-security-policy');
        // Nobody else's address gives it, nor a guess.
        expect((await get(url, 'POST'))?.status).toBe(404);
        expect((await get(url.replace('page', 'other')))?.status).toBe(404);
        expect((await get(`${url}1`))?.status).toBe(404);
        steps.push(url);
      },
      destroy: () => void steps.push('destroy'),
      isDestroyed: () => false,
      webContents: {
        once: (() => undefined) as never,
        print: (options, done) => {
          expect(options).toEqual({ printBackground: true, usePrinterDefaultPageSize: true });
          steps.push('print');
          done?.(steps.length < 4, why);
        },
        printToPDF: (options) => {
          steps.push(`pdf ${JSON.stringify(options)}`);
          return Promise.resolve(Buffer.from('%PDF'));
        },
      },
    }),
    session,
  );
  await printer.print('<html><head><title>x</title></head>chart</html>');
  const [url = ''] = steps;
  expect(steps.splice(0).slice(1)).toEqual(['print', 'destroy']);
  expect(loaded).toBe('<html><head><title>x</title></head>chart</html>');
  expect(policy).toContain("default-src 'none'");
  expect((await get(url))?.status).toBe(404);
  expect(String(await printer.pdf('chart'))).toBe('%PDF');
  expect(steps.splice(1)).toEqual([
    'pdf {"preferCSSPageSize":true,"printBackground":true,"generateTaggedPDF":true,"generateDocumentOutline":true}',
    'destroy',
  ]);
  expect(cancelled).toEqual(['https://example.org/', 'app://evenrack/index.html', 'file:///a']);
  steps.push('a', 'b', 'c');
  await expect(printer.print('chart')).rejects.toThrow('printing failed: Print job failed');
  expect(steps.at(-1)).toBe('destroy');
  why = 'Print job canceled';
  steps.push('a', 'b', 'c');
  await printer.print('chart');
});

test.each([
  ['render-process-gone', [{}, { reason: 'oom' }], 'stopped working, there was not enough memory'],
  ['destroyed', [], 'its window was closed'],
])(
  'a page that goes as it is printed (%s) is told, and waits for nobody',
  async (name, given, why) => {
    let gone = false;
    const printer = windowPrinter(
      () => ({
        loadURL: () => Promise.resolve(),
        // As Electron does of a window that is gone.
        destroy: () => {
          if (gone) throw new TypeError('Object has been destroyed');
        },
        isDestroyed: () => gone,
        webContents: {
          once: ((event: string, hear: (...all: unknown[]) => void) => {
            if (event !== name) return;
            queueMicrotask(() => {
              gone = name === 'destroyed';
              hear(...given);
            });
          }) as never,
          // Never says how it ended.
          print: () => undefined,
          printToPDF: () => Promise.reject(new Error('not asked')),
        },
      }),
      { ...noSession, protocol: { handle: () => undefined } },
    );
    const failed = await printer.print('chart').catch((error: unknown) => error);
    expect(failed).toBeInstanceOf(FileTrouble);
    expect(String(failed)).toContain(why);
  },
);

test.each(['loading', 'printing'])(
  'a PDF that hangs in %s is given up in the end',
  async (where) => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const never = new Promise<never>(() => undefined);
    let destroyed = 0;
    const printer = windowPrinter(
      () => ({
        loadURL: () => (where === 'loading' ? never : Promise.resolve()),
        destroy: () => void (destroyed += 1),
        isDestroyed: () => false,
        webContents: {
          once: (() => undefined) as never,
          print: () => undefined,
          printToPDF: () => never,
        },
      }),
      { ...noSession, protocol: { handle: () => undefined } },
    );
    const failed = printer.pdf('chart').catch(String);
    await vi.advanceTimersByTimeAsync(119_000);
    expect(destroyed).toBe(0);
    await vi.advanceTimersByTimeAsync(2000);
    vi.useRealTimers();
    expect(await failed).toContain('printing failed: it took longer than 2 minutes');
    expect(destroyed).toBe(1);
  },
);
