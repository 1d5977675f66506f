import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runShell } from '../../electron/services/window/shell';
import { ElectronStandIn } from './support/standIn';
import { tempFolder } from './tempFolder';

// Scenes of the main process against a stand-in, in the order of events that Electron documents.

const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';

// Time is moved by the scenes; the disk works as ever.
beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] }));
afterEach(() => void vi.useRealTimers());

async function until(come: () => boolean): Promise<void> {
  const end = Date.now() + 20_000;
  while (!come() && Date.now() < end) await turn();
  expect(come()).toBe(true);
}

interface Scene {
  electron: ElectronStandIn;
  folder: string;
  fault: (error: unknown) => void;
  log: () => Promise<string>;
}

async function begin({
  argv = [] as string[],
  platform = 'linux' as NodeJS.Platform,
  prepare = (_electron: ElectronStandIn): unknown => undefined,
} = {}): Promise<Scene> {
  const folder = await tempFolder();
  const electron = new ElectronStandIn(folder);
  await prepare(electron);
  let fault: (error: unknown) => void = () => undefined;
  const place = { here: '/app/out/electron', temp: folder, folder, user: 'me' };
  runShell(electron.runtime(), {
    ...place,
    platform,
    argv: ['evenrack', ...argv],
    tellStart: (sign) => electron.said.push(`start: ${sign}`),
    onFault: (hear) => (fault = hear),
  });
  const log = () => readFile(join(folder, 'errors.log'), 'utf8');
  return { electron, folder, fault: (error) => fault(error), log };
}

/** A window that is shown, with a page that listens and keeps its work when it is asked to. */
async function opened(options: Parameters<typeof begin>[0] = {}): Promise<Scene> {
  const scene = await begin(options);
  const { electron } = scene;
  electron.becomeReady();
  await until(() => electron.windows.length > 0 && electron.window.visible);
  await electron.invoke('listening', {});
  electron.window.webContents.page = (event) => {
    if (event === 'keepNow') void electron.invoke('workKept', {});
  };
  electron.said.length = 0;
  return scene;
}

const edit = (electron: ElectronStandIn) => electron.invoke('setUnsaved', { unsaved: true });

describe('the start', () => {
  it('does before Electron is ready what must be, and confines before it loads', async () => {
    const { electron } = await begin({ argv: ['--example=basil'] });
    expect(electron.said).toEqual(['schemes app evenrack-print', 'sandbox']);
    electron.becomeReady();
    await until(() => electron.windows.length > 0 && electron.window.visible);
    const order = electron.said.slice(2);
    expect(order).toEqual([
      'print: permissions',
      'print: requests',
      'print: protocol evenrack-print',
      'protocol app',
      'default: permissions',
      'default: requests',
      'menu',
      'window',
      'confined',
      'load app://evenrack/index.html?region=de-AT#example=basil',
      'show',
      'start: shown',
    ]);
  });

  it('opens one window, whatever the system asks for meanwhile', async () => {
    const { electron, folder } = await begin();
    // On a Mac it is activated as it starts; ready, its pages are not yet to be had.
    electron.app.tell('activate', {} as never, false);
    electron.becomeReady();
    electron.app.tell('activate', {} as never, false);
    electron.app.tell('second-instance', {} as never, ['evenrack'], folder);
    expect(electron.windows).toHaveLength(0);
    await until(() => electron.windows.length > 0);
    expect(electron.said.indexOf('protocol app')).toBeLessThan(electron.said.indexOf('window'));
    expect(electron.windows).toHaveLength(1);
  });

  it('hands over to a first one that runs, and ends', async () => {
    const { electron } = await begin({ prepare: (one) => (one.lock = false) });
    expect(electron.said).toEqual(['start: handedOver', 'ended']);
  });

  it('that fails is told in a box, and its code says so', async () => {
    const { electron, log } = await begin({
      prepare: (one) => {
        one.app.whenReady = () => Promise.reject(new Error('no screen'));
      },
    });
    await until(() => electron.said.includes('exit 1'));
    expect(electron.said.slice(-2)).toEqual([
      'error box Evenrack cannot start: no screen',
      'exit 1',
    ]);
    expect(await log()).toContain('start: Error: no screen');
  });

  it('shows a page that is late as it is, so that nobody waits for nothing', async () => {
    const { electron } = await begin({ prepare: (one) => (one.drawsPages = false) });
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    await vi.advanceTimersByTimeAsync(9000);
    expect(electron.window.visible).toBe(false);
    await vi.advanceTimersByTimeAsync(1000);
    expect(electron.window.visible).toBe(true);
  });

  it('whose page cannot be loaded is told, and may be tried again', async () => {
    let tryAgain: (answer: number) => void = () => undefined;
    const { electron, log } = await begin({
      prepare: (one) => {
        one.failsToLoad = true;
        one.answers.push(new Promise<number>((resolve) => (tryAgain = resolve)));
      },
    });
    electron.becomeReady();
    await until(() => electron.asked.length === 1);
    expect(electron.asked[0]?.detail).toContain('ERR_FILE_NOT_FOUND');
    electron.failsToLoad = false;
    tryAgain(0);
    await until(() => electron.said.filter((words) => words.startsWith('load')).length === 2);
    expect(electron.window.visible).toBe(true);
    expect(await log()).toContain('page not loaded: ERR_FILE_NOT_FOUND (-6)');
  });

  it('without the bridge is told, before the page takes itself for one in a browser', async () => {
    const { electron } = await opened();
    electron.answers.push(1);
    const broken = new Error('module not found');
    electron.window.webContents.tell('preload-error', {} as never, '/preload.cjs', broken);
    await until(() => electron.said.includes('ended'));
    expect(electron.asked[0]?.message).toBe('The window cannot reach your files.');
  });
});

describe('files that the system names', () => {
  const plan = async (folder: string, name = 'a plan.evenrack'): Promise<string> => {
    await writeFile(join(folder, name), 'text');
    return join(folder, name);
  };
  const openedPlans = (electron: ElectronStandIn): unknown[] => {
    const heard: unknown[] = [];
    electron.window.webContents.page = (event, payload) =>
      void (event.startsWith('open') && heard.push(payload));
    return heard;
  };

  it('open-file before ready is kept until the window listens (macOS)', async () => {
    const { electron, folder } = await begin({ platform: 'darwin' });
    electron.app.tell(
      'open-file',
      { preventDefault: () => undefined } as never,
      await plan(folder),
    );
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    const heard = openedPlans(electron);
    await electron.invoke('listening', {});
    await until(() => heard.length === 1);
    expect(heard[0]).toMatchObject({ text: 'text' });
    expect(electron.said).toContain(`recent ${join(folder, 'a plan.evenrack')}`);
  });

  it('a double click while the window is closed opens it again (macOS)', async () => {
    const { electron, folder } = await opened({ platform: 'darwin' });
    electron.window.close();
    await until(() => electron.windows.length === 0);
    expect(electron.said).not.toContain('ended');
    electron.app.tell(
      'open-file',
      { preventDefault: () => undefined } as never,
      await plan(folder),
    );
    expect(electron.windows).toHaveLength(1);
    electron.app.tell('activate', {} as never, true);
    expect(electron.windows).toHaveLength(1);
  });

  it('a second start shows the window and opens its plan, by path from its folder or by address', async () => {
    const { electron, folder } = await opened();
    const heard = openedPlans(electron);
    electron.window.minimized = true;
    await plan(folder);
    const words = ['evenrack', '--allow-file-access', 'a plan.evenrack'];
    electron.app.tell('second-instance', {} as never, words, folder);
    await until(() => heard.length === 1);
    expect(electron.said.slice(0, 2)).toEqual(['restore', 'focus']);
    const address = `file://${folder}/a%20plan.evenrack`;
    electron.app.tell('second-instance', {} as never, ['evenrack', address], '/');
    await until(() => heard.length === 2);
    expect(heard[1]).toEqual(heard[0]);
    electron.app.tell('second-instance', {} as never, ['evenrack', 'none.evenrack'], folder);
    await until(() => heard.length === 3);
    expect(heard[2]).toMatch(/none\.evenrack.*there is no such file/);
  });
});

describe('closing', () => {
  it('right after an edit keeps it, though its messages are still under way', async () => {
    const { electron, folder } = await opened();
    electron.answers.push(1);
    // The shell has heard of no edit; the page says all of it only when it is asked.
    electron.window.webContents.page = (event) => {
      if (event !== 'keepNow') return;
      void edit(electron)
        .then(() => electron.invoke('keepForRecovery', { copy, text: 'edited', ref: null }))
        .then(() => electron.invoke('workKept', {}));
    };
    electron.window.close();
    await until(() => electron.said.includes('ended'));
    expect(electron.asked.map(({ buttons }) => buttons)).toEqual([
      ['Stay', 'Close without saving'],
    ]);
    const [name = ''] = await readdir(join(folder, 'recovery'));
    expect(await readFile(join(folder, 'recovery', name), 'utf8')).toContain('edited');
  });

  it('counts a copy whose frame has gone since, and nothing else of it', async () => {
    const { electron, folder } = await opened();
    const request = { copy, text: 'last words', ref: null };
    expect(await electron.invoke('keepForRecovery', request, { gone: true })).toMatchObject({
      ok: true,
    });
    expect(await electron.invoke('keepForRecovery', request, { gone: 'destroyed' })).toMatchObject({
      ok: true,
    });
    expect(await readdir(join(folder, 'recovery'))).toHaveLength(1);
    expect(await electron.invoke('recentPlans', {}, { gone: true })).toMatchObject({ ok: false });
    // Of another window it counts for nothing.
    const other = { webContents: {} } as never;
    const refused = await electron.invoke('keepForRecovery', request, { gone: true, from: other });
    expect(refused).toMatchObject({ ok: false });
  });

  it('waits two seconds at most for a page that says nothing', async () => {
    const { electron } = await opened();
    electron.window.webContents.page = () => undefined;
    electron.window.close();
    await vi.advanceTimersByTimeAsync(1900);
    expect(electron.windows).toHaveLength(1);
    await vi.advanceTimersByTimeAsync(200);
    await until(() => electron.said.includes('ended'));
  });

  it('is given up where the person stays, also by the whole program', async () => {
    const { electron } = await opened();
    await edit(electron);
    electron.answers.push(0, 0, 1);
    electron.app.quit();
    await until(() => electron.asked.length === 1);
    await turn();
    expect(electron.windows).toHaveLength(1);
    // What comes later is a new question.
    electron.window.close();
    await until(() => electron.asked.length === 2);
    await turn();
    electron.app.quit();
    await until(() => electron.said.includes('ended'));
  });

  it('ends the program where that was asked, and on a Mac only then', async () => {
    const { electron } = await opened({ platform: 'darwin' });
    await edit(electron);
    electron.answers.push(1, 1);
    electron.window.close();
    await until(() => electron.windows.length === 0);
    expect(electron.said).not.toContain('ended');
    electron.app.tell('activate', {} as never, false);
    await edit(electron);
    electron.app.quit();
    await vi.advanceTimersByTimeAsync(2000);
    await until(() => electron.said.includes('ended'));
  });

  it('is not asked about twice while a question stands', async () => {
    const { electron } = await opened();
    await edit(electron);
    let answer: (stay: number) => void = () => undefined;
    electron.answers.push(new Promise<number>((resolve) => (answer = resolve)));
    electron.window.close();
    await until(() => electron.asked.length === 1);
    electron.window.close();
    electron.window.close();
    answer(1);
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toHaveLength(1);
  });
});

describe('the computer', () => {
  it('about to sleep has the work kept first', async () => {
    const { electron } = await opened();
    electron.power.tell('suspend');
    expect(electron.said).toEqual(['tell keepNow']);
  });

  it('about to end has the work kept, and asks nobody', async () => {
    const { electron } = await opened();
    await edit(electron);
    electron.power.tell('shutdown');
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toEqual([]);
    expect(electron.said[0]).toBe('tell keepNow');
  });

  it('that ends a session on Windows has the work kept', async () => {
    const { electron } = await opened({ platform: 'win32' });
    electron.window.tell('session-end', {});
    expect(electron.said).toEqual(['tell keepNow']);
  });
});

describe('a page in trouble', () => {
  it.each([
    ['crashed', 'it crashed'],
    ['oom', 'there was not enough memory'],
    ['killed', 'the system or a person ended it'],
    ['launch-failed', 'it could not be started'],
  ] as const)('that is gone (%s) is told and opened again', async (reason, why) => {
    const { electron, log } = await opened();
    await edit(electron);
    await electron.invoke('keepForRecovery', { copy, text: 'edited', ref: null });
    electron.answers.push(0);
    electron.window.webContents.crash(reason);
    await until(() => electron.said.some((words) => words.startsWith('load')));
    expect(electron.asked[0]?.detail).toContain(why);
    expect(electron.asked[0]?.detail).toContain('Every edit up to two seconds before is kept');
    expect(await log()).toContain(`window gone: ${reason}, code 5`);
    // The page that is there now is offered the work, and has nothing unsaved itself.
    expect(await electron.invoke('recoveries', {})).toMatchObject({
      value: [{ copy, kept: { text: 'edited' } }],
    });
    electron.window.close();
    await vi.advanceTimersByTimeAsync(2000);
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toHaveLength(1);
  });

  it('that is gone again and again is told with another way out', async () => {
    const { electron } = await opened();
    electron.answers.push(0, 0, 1);
    for (let times = 1; times <= 3; times++) {
      electron.window.webContents.crash();
      await until(() => electron.asked.length === times);
      await turn();
    }
    expect(electron.asked[1]?.detail).not.toContain('several times');
    expect(electron.asked[2]?.detail).toContain('several times');
    await until(() => electron.said.includes('ended'));
  });

  it('that ended as it should is no trouble', async () => {
    const { electron } = await opened();
    electron.window.webContents.crash('clean-exit');
    expect(electron.asked).toEqual([]);
  });

  it('that does not answer may be waited for, and the question goes when it does', async () => {
    const { electron } = await opened();
    electron.answers.push(new Promise<number>(() => undefined));
    electron.window.tell('unresponsive');
    electron.window.tell('unresponsive');
    expect(electron.asked).toHaveLength(1);
    electron.window.tell('responsive');
    await turn();
    expect(electron.said).toEqual([]);
    // The next time is a new question, and its answer is to open it again.
    electron.answers.push(1);
    electron.window.tell('unresponsive');
    await until(() => electron.said.includes('load app://evenrack/index.html?region=de-AT'));
    expect(electron.said[0]).toBe('kill page');
    expect(electron.asked).toHaveLength(2);
  });

  it('whose graphics helper fails once is written down, and told when it goes on', async () => {
    const { electron, log } = await opened();
    const gone = { type: 'GPU', reason: 'crashed', exitCode: 1 } as const;
    electron.app.tell('child-process-gone', {} as never, gone);
    electron.app.tell('child-process-gone', {} as never, { ...gone, type: 'Utility' });
    electron.app.tell('child-process-gone', {} as never, gone);
    expect(electron.asked).toEqual([]);
    electron.answers.push(0);
    electron.app.tell('child-process-gone', {} as never, gone);
    await until(() => electron.asked.length === 1);
    expect(electron.asked[0]?.detail).toContain('--disable-gpu');
    expect(await log()).toContain('helper gone: Utility');
  });
});

it('a mistake of the shell is told once a minute, written down, and ends nothing', async () => {
  const { electron, fault, log } = await opened();
  electron.answers.push(0, 0);
  fault(new TypeError('x is undefined'));
  fault(new TypeError('y is undefined'));
  await until(() => electron.asked.length === 1);
  await vi.advanceTimersByTimeAsync(61_000);
  fault(new TypeError('z is undefined'));
  await until(() => electron.asked.length === 2);
  expect(electron.windows).toHaveLength(1);
  expect(await log()).toMatch(/x is undefined[^]*y is undefined[^]*z is undefined/);
});

it('a data folder that cannot be made is no reason not to start', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'file'), '');
  const { electron } = await begin({
    prepare: (one) => {
      one.app.getPath = () => join(folder, 'file', 'data');
    },
  });
  electron.becomeReady();
  await until(() => electron.windows.length > 0 && electron.window.visible);
  await electron.invoke('listening', {});
  const kept = await electron.invoke('keepForRecovery', { copy, text: 'a', ref: null });
  expect(kept).toMatchObject({ ok: false });
});
