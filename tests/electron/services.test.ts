import { writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { expect, test } from 'vitest';
import { filtersToSave } from '../../electron/services/dialogs';
import { Recents } from '../../electron/services/recents';
import { fileDialogs } from '../../electron/services/window/dialogs';
import { appScheme, isOurs } from '../../electron/services/window/appProtocol';
import { menuTemplate } from '../../electron/services/window/menu';
import {
  exampleOnCommandLine,
  OpenRequests,
  planOnCommandLine,
} from '../../electron/services/window/openRequests';
import { printScheme, printWindowOptions } from '../../electron/services/window/printWindow';
import {
  appPermissions,
  confine,
  confineSession,
  windowOptions,
} from '../../electron/services/window/windowPolicy';
import { menuAction } from '../../shared-types/window/ipc';
import { tempFolder } from './tempFolder';

test('the window has a sandbox, isolation and no Node', () => {
  expect(windowOptions('/preload.cjs').webPreferences).toMatchObject({
    preload: '/preload.cjs',
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    webviewTag: false,
    navigateOnDragDrop: false,
    devTools: false,
  });
  // Scripts are compiled once; the policy holds for both, and none reaches another origin.
  expect(appScheme.privileges).toEqual({
    standard: true,
    secure: true,
    supportFetchAPI: true,
    codeCache: true,
  });
  expect(printScheme.privileges).toEqual({ standard: true, secure: true });
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
  expect(prevented('will-redirect', 'https://example.org/')).toBe(true);
  expect(prevented('will-frame-navigate', 'https://example.org/')).toBe(true);
  expect(prevented('will-frame-navigate', 'about:srcdoc')).toBe(false);
  expect(prevented('will-attach-webview', 'app://evenrack/index.html')).toBe(true);
  // Not held up by what a page says as it is unloaded.
  expect(prevented('will-prevent-unload', '')).toBe(true);
  expect(open?.({} as never)).toEqual({ action: 'deny' });
});

const noSession = {
  setPermissionRequestHandler: () => undefined,
  setPermissionCheckHandler: () => undefined,
  setDevicePermissionHandler: () => undefined,
  setDisplayMediaRequestHandler: () => undefined,
  on: () => undefined,
  webRequest: { onBeforeRequest: () => undefined },
} as unknown as Parameters<typeof confineSession>[0];

test('a page may put something on the clipboard, and is denied every other right', () => {
  const decided: boolean[] = [];
  const asked = ['clipboard-sanitized-write', 'clipboard-read', 'geolocation'] as const;
  const session: typeof noSession = {
    ...noSession,
    setPermissionRequestHandler: (ask) => {
      for (const right of asked)
        ask?.({} as never, right, (granted) => decided.push(granted), {} as never);
    },
    setPermissionCheckHandler: (check) => {
      for (const right of asked) decided.push(check?.(null, right, '', {} as never) ?? false);
    },
    setDevicePermissionHandler: (check) => {
      decided.push(check?.({} as never) ?? true);
    },
    setDisplayMediaRequestHandler: (ask) => {
      ask?.({} as never, (streams) => decided.push(streams !== null));
    },
    on: ((name: string, hear: (event: { preventDefault(): void }) => void) => {
      if (name === 'will-download') hear({ preventDefault: () => decided.push(false) });
    }) as never,
  };
  confineSession(session, appPermissions, isOurs);
  expect(decided.splice(0)).toEqual([true, false, false, true, false, false, false, false, false]);
  confineSession(session, [], isOurs);
  expect(decided).toEqual(Array.from({ length: 9 }, () => false));
});

test('a session loads nothing but what it is for', () => {
  const cancelled: string[] = [];
  const session: typeof noSession = {
    ...noSession,
    webRequest: {
      onBeforeRequest: ((hear: (details: { url: string }, decide: unknown) => void) => {
        for (const url of ['app://evenrack/a.js', 'https://example.org/', 'file:///a', 'ws://a/']) {
          hear({ url }, ({ cancel }: { cancel: boolean }) => cancel && cancelled.push(url));
        }
      }) as never,
    },
  };
  confineSession(session, [], isOurs);
  expect(cancelled).toEqual(['https://example.org/', 'file:///a', 'ws://a/']);
});

test.each([true, false])(
  'the menu offers every action once, and leaves the keys to the window (on a Mac: %s)',
  (isMac) => {
    const acted: string[] = [];
    const menus = menuTemplate(isMac, (action) => acted.push(action));
    const items = menus.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
    const ours = items.filter((item) => item.click);
    for (const item of ours) item.click?.({} as never, undefined, {} as never);
    expect(acted.sort()).toEqual([...menuAction.options].sort());
    expect(ours.map((item) => item.registerAccelerator)).toEqual(ours.map(() => false));
    const roles = [...menus, ...items].map(({ role }) => role);
    expect(roles.filter((role) => role === 'quit')).toEqual(['quit']);
    expect(roles.includes('windowMenu')).toBe(isMac);
    expect(roles.includes('recentDocuments')).toBe(isMac);
  },
);

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
  [['electron', '.', 'old.json'], '/work/old.json'],
  // As desktops of Linux name it.
  [['/opt/Evenrack', 'file:///home/a/my%20trial.evenrack'], '/home/a/my trial.evenrack'],
  [['/opt/Evenrack', 'file://server/trial.evenrack'], null],
  [['/opt/Evenrack', '--file=a.evenrack'], null],
  // Chromium adds switches of its own, and desktops end them by two dashes.
  [['/opt/Evenrack', '--original-process-start-time=1', '--', 'a.evenrack'], '/work/a.evenrack'],
  [['/opt/Evenrack', 'a.evenrack', '--allow-file-access-from-files'], '/work/a.evenrack'],
  // Of several the last one stays open.
  [['/opt/Evenrack', 'a.evenrack', 'b.evenrack'], '/work/b.evenrack'],
  [['/opt/Evenrack', '../a.evenrack'], '/a.evenrack'],
  [['/opt/a.evenrack'], null],
  [['electron', '.'], null],
])('the plan on the command line %j is %s', (argv, expected) => {
  expect(planOnCommandLine(argv, '/work')).toBe(expected);
});

test.each([
  [['electron', '.', '--example=two-lamps'], '#example=two-lamps'],
  [['electron', '.', '--example=<script>'], ''],
  [['electron', '.'], ''],
])('the example on the command line %j is %j', (argv, expected) => {
  expect(exampleOnCommandLine(argv)).toBe(expected);
});

test('a name typed without an ending gets that of its kind, and no file that is there', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'taken.evenrack'), 'theirs');
  let typed = '';
  const { saveFile } = fileDialogs(
    {
      showOpenDialog: () => Promise.reject(new Error('not asked')),
      showSaveDialog: () => Promise.resolve({ canceled: false, filePath: join(folder, typed) }),
    },
    () => null,
    () => Promise.resolve([]),
  );
  const saved = async (name: string): Promise<string> => {
    typed = name;
    return basename((await saveFile('a', filtersToSave('plan'))) ?? '');
  };
  expect(await saved('radish')).toBe('radish.evenrack');
  expect(await saved('radish.json')).toBe('radish.json');
  expect(await saved('taken')).toBe('taken');
  expect(await saved('.hidden')).toBe('.hidden.evenrack');
});

test('a dialogue begins where the last file was chosen, else beside the last plan that is there', async () => {
  const [folder, recent] = [await tempFolder(), await tempFolder()];
  const began: (string | undefined)[] = [];
  let folders = ['/none/here'];
  const { openFile, saveFile } = fileDialogs(
    {
      showOpenDialog: ((options: { defaultPath?: string }) => {
        began.push(options.defaultPath);
        return Promise.resolve({ canceled: false, filePaths: [join(folder, 'a.csv')] });
      }) as never,
      showSaveDialog: ((options: { defaultPath?: string }) => {
        began.push(options.defaultPath);
        return Promise.resolve({ canceled: true, filePath: '' });
      }) as never,
    },
    () => null,
    () => Promise.resolve(folders),
  );
  await saveFile('a.evenrack', filtersToSave('plan'));
  folders = ['/none/here', recent];
  // Given up, it is no choice.
  await saveFile('a.evenrack', filtersToSave('plan'));
  await openFile([]);
  await saveFile('a.evenrack', filtersToSave('plan'));
  const name = 'a.evenrack';
  expect(began).toEqual([name, join(recent, name), recent, join(folder, name)]);
});

test('recent plans keep the order of their use where the clock is set back', async () => {
  const file = join(await tempFolder(), 'recent-plans.json');
  const times = ['2026-03-31T12:00:00Z', '2020-01-01T00:00:00Z', '2031-01-01T00:00:00Z'];
  for (const [i, time] of times.entries()) {
    await new Recents(file, () => new Date(time)).add(`/plan ${i}`);
  }
  const list = await new Recents(file, () => new Date(0)).list();
  expect(list.map(({ path }) => path)).toEqual(['/plan 2', '/plan 1', '/plan 0']);
});
