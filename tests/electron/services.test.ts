import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { menuTemplate } from '../../electron/services/menu';
import {
  exampleOnCommandLine,
  OpenRequests,
  planOnCommandLine,
} from '../../electron/services/openRequests';
import { windowPrinter, withPolicy } from '../../electron/services/printWindow';
import {
  confine,
  confinePermissions,
  printWindowOptions,
  windowOptions,
} from '../../electron/services/windowPolicy';
import { menuAction } from '../../shared-types/ipc';
import { tempFolder } from './tempFolder';

test('the window has a sandbox, isolation and no Node', () => {
  expect(windowOptions('/preload.cjs').webPreferences).toMatchObject({
    preload: '/preload.cjs',
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    webSecurity: true,
    webviewTag: false,
  });
  expect(printWindowOptions().webPreferences).toMatchObject({ sandbox: true, javascript: false });
  expect(printWindowOptions().webPreferences).not.toHaveProperty('preload');
});

test('the window stays on our page: no other address, no second window, no embedded one', () => {
  const heard = new Map<string, (event: { url: string; preventDefault(): void }) => void>();
  let open: ((details: never) => { action: string }) | undefined;
  confine({
    on: ((name: string, listener: never) => heard.set(name, listener)) as never,
    setWindowOpenHandler: (handler) => void (open = handler as typeof open),
  });
  const prevented = (name: string, url: string): boolean => {
    let stopped = false;
    heard.get(name)?.({ url, preventDefault: () => void (stopped = true) });
    return stopped;
  };
  expect(prevented('will-navigate', 'https://example.org/')).toBe(true);
  expect(prevented('will-navigate', 'file:///etc/passwd')).toBe(true);
  expect(prevented('will-navigate', 'app://evenrack/index.html')).toBe(false);
  expect(prevented('will-attach-webview', 'app://evenrack/index.html')).toBe(true);
  expect(open?.({} as never)).toEqual({ action: 'deny' });
});

test('a page may put something on the clipboard, and is denied every other right', () => {
  const decided: boolean[] = [];
  const asked = ['clipboard-sanitized-write', 'clipboard-read', 'geolocation'] as const;
  confinePermissions({
    setPermissionRequestHandler: (ask) => {
      for (const right of asked)
        ask?.({} as never, right, (granted) => decided.push(granted), {} as never);
    },
    setPermissionCheckHandler: (check) => {
      for (const right of asked) decided.push(check?.(null, right, '', {} as never) ?? false);
    },
  });
  expect(decided).toEqual([true, false, false, true, false, false]);
});

test('the menu offers every action once, and leaves the keys to the window', () => {
  const acted: string[] = [];
  const items = menuTemplate(false, (action) => acted.push(action)).flatMap((menu) =>
    Array.isArray(menu.submenu) ? menu.submenu : [],
  );
  const ours = items.filter((item) => item.click);
  for (const item of ours) item.click?.({} as never, undefined, {} as never);
  expect(acted.sort()).toEqual([...menuAction.options].sort());
  expect(ours.map((item) => item.registerAccelerator)).toEqual(ours.map(() => false));
});

test('open requests wait until the window listens, and again after it has gone', () => {
  const requests = new OpenRequests();
  const heard: string[] = [];
  requests.ask('/a');
  requests.listen((path) => heard.push(path));
  requests.ask('/b');
  requests.pause();
  requests.ask('/c');
  expect(heard).toEqual(['/a', '/b']);
  requests.listen((path) => heard.push(path));
  expect(heard).toEqual(['/a', '/b', '/c']);
});

test.each([
  [['/opt/Evenrack', '/home/a/trial.evenrack'], '/home/a/trial.evenrack'],
  [['electron', '.', 'old.json'], 'old.json'],
  [['/opt/Evenrack', '--file=a.evenrack'], null],
  [['/opt/a.evenrack'], null],
  [['electron', '.'], null],
])('the plan on the command line %j is %s', (argv, expected) => {
  expect(planOnCommandLine(argv)).toBe(expected);
});

test.each([
  [['electron', '.', '--example=two-lamps'], '#example=two-lamps'],
  [['electron', '.', '--example=<script>'], ''],
  [['electron', '.'], ''],
])('the example on the command line %j is %j', (argv, expected) => {
  expect(exampleOnCommandLine(argv)).toBe(expected);
});

test('a document is printed from a hidden window that is gone afterwards', async () => {
  const folder = await tempFolder();
  const steps: string[] = [];
  let loaded = '';
  const printer = windowPrinter(
    () => ({
      async loadURL(url) {
        loaded = await readFile(fileURLToPath(url), 'utf8');
        steps.push('load');
      },
      destroy: () => void steps.push('destroy'),
      webContents: {
        print: (_options, done) => {
          steps.push('print');
          done?.(steps.length < 4, 'Print job failed');
        },
        printToPDF: (options) => {
          steps.push(`pdf ${JSON.stringify(options)}`);
          return Promise.resolve(Buffer.from('%PDF'));
        },
      },
    }),
    folder,
  );
  await printer.print('<html><head><title>x</title></head>chart</html>');
  expect(steps.splice(0)).toEqual(['load', 'print', 'destroy']);
  expect(loaded).toContain("default-src 'none'");
  expect(String(await printer.pdf('chart'))).toBe('%PDF');
  expect(steps.splice(1)).toEqual([
    'pdf {"preferCSSPageSize":true,"printBackground":true,"generateTaggedPDF":true,"generateDocumentOutline":true}',
    'destroy',
  ]);
  steps.push('a', 'b', 'c');
  await expect(printer.print('chart')).rejects.toThrow('printing failed: Print job failed');
  expect(steps.at(-1)).toBe('destroy');
});

test('the policy stands before anything that a document to be printed brings along', () => {
  const meta = '<meta http-equiv="Content-Security-Policy"';
  const inHead = withPolicy(
    '<!doctype html><html><head lang="en"><script>x</script></head></html>',
  );
  expect(inHead.indexOf(meta)).toBe(inHead.indexOf('<head lang="en">') + '<head lang="en">'.length);
  expect(withPolicy('<p>chart</p>').startsWith(meta)).toBe(true);
});
