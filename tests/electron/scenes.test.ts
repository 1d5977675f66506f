import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it, vi } from 'vitest';
import { begin, copy, edit, moveTime, opened, until } from './support/scene';
import { preventable } from './support/events';
import { tempFolder } from './tempFolder';

// Scenes of the main process against a stand-in, in the order of events that Electron documents.

moveTime();

describe('the start', () => {
  it('does before Electron is ready what must be, and confines before it loads', async () => {
    const { electron } = await begin({ argv: ['--example=basil'] });
    expect(electron.said).toEqual(['crash reports kept', 'schemes app evenrack-print', 'sandbox']);
    electron.becomeReady();
    await until(() => electron.windows.length > 0 && electron.window.visible);
    const order = electron.said.slice(3);
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

describe('the window', () => {
  it.each([
    [true, false],
    [false, true],
  ])('has the tools of a developer only unpackaged (packaged: %s)', async (packaged, tools) => {
    const { electron } = await begin({ prepare: (one) => (one.app.isPackaged = packaged) });
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    expect(electron.options[0]?.webPreferences?.devTools).toBe(tools);
  });

  it('is known to the task bar of Windows by its name', async () => {
    const { electron } = await begin({ platform: 'win32' });
    expect(electron.said).toContain('known as org.evenrack.app');
  });

  it('closed before it was shown is not shown afterwards', async () => {
    const { electron } = await begin({
      platform: 'darwin',
      prepare: (one) => (one.drawsPages = false),
    });
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    electron.window.close();
    await until(() => electron.windows.length === 0);
    await vi.advanceTimersByTimeAsync(11_000);
    expect(electron.said).not.toContain('show');
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

  it('that ended as it should is loaded again unasked, and told where it goes on', async () => {
    const { electron } = await opened();
    const loads = () => electron.said.filter((words) => words.startsWith('load')).length;
    electron.window.webContents.crash('clean-exit');
    electron.window.webContents.crash('clean-exit');
    expect(loads()).toBe(2);
    expect(electron.asked).toEqual([]);
    electron.answers.push(0);
    electron.window.webContents.crash('clean-exit');
    await until(() => loads() === 3);
    expect(electron.asked).toHaveLength(1);
  });

  it('that is loaded again begins without the example, and loses nothing by a slip', async () => {
    const { electron } = await opened({ argv: ['--example=basil'] });
    electron.answers.push(0);
    electron.window.webContents.crash();
    await until(() => electron.said.includes('load app://evenrack/index.html?region=de-AT'));
    expect(electron.asked[0]).toMatchObject({ defaultId: 0, cancelId: 0 });
  });

  it('whose loading is given up for another, or whose frame fails, is no trouble', async () => {
    const { electron } = await opened();
    const { webContents } = electron.window;
    const failed = (code: number, isMainFrame: boolean): void =>
      webContents.tell('did-fail-load', preventable(), code, '', 'app://evenrack/', isMainFrame);
    failed(-3, true);
    failed(-6, false);
    expect(electron.asked).toEqual([]);
  });

  it('that goes with its window is no trouble', async () => {
    const { electron } = await opened({ platform: 'darwin' });
    const { webContents } = electron.window;
    electron.window.close();
    await until(() => electron.windows.length === 0);
    webContents.crash('killed');
    expect(electron.asked).toEqual([]);
  });

  it('that is killed without a word is told when it goes later', async () => {
    const { electron } = await opened();
    const { webContents } = electron.window;
    webContents.tellsOfKill = false;
    electron.answers.push(1);
    electron.window.tell('unresponsive');
    await until(() => electron.said.some((words) => words.startsWith('load')));
    await vi.advanceTimersByTimeAsync(6000);
    electron.answers.push(0);
    webContents.crash();
    await until(() => electron.asked.length === 2);
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
    // What comes later is no doing of ours, and told.
    await vi.advanceTimersByTimeAsync(6000);
    electron.answers.push(0);
    electron.window.webContents.crash();
    await until(() => electron.asked.length === 3);
  });

  it('whose graphics helper fails once is written down, and told when it goes on', async () => {
    const scene = await opened();
    const { electron, folder, log } = scene;
    const gone = { type: 'GPU', reason: 'crashed', exitCode: 1 } as const;
    electron.app.tell('child-process-gone', {} as never, gone);
    electron.app.tell('child-process-gone', {} as never, { ...gone, type: 'Utility' });
    electron.app.tell('child-process-gone', {} as never, gone);
    expect(electron.asked).toEqual([]);
    electron.answers.push(0);
    electron.app.tell('child-process-gone', {} as never, gone);
    // At once: Chromium may end the whole program now.
    const next = await begin({ folder });
    expect(next.electron.said).toContain('no acceleration');
    await until(() => electron.asked.length === 1);
    expect(electron.asked[0]?.detail).toContain('does without the driver');
    expect(await log()).toContain('helper gone: Utility');
    // Another version tries again.
    const later = await begin({ folder, prepare: (one) => (one.version = '1.2.4') });
    expect(later.electron.said).not.toContain('no acceleration');
  });

  it('whose graphics helper cannot be started does without it from the next start', async () => {
    const { electron, folder, log } = await opened();
    const gone = { type: 'GPU', reason: 'launch-failed', exitCode: 1 } as const;
    electron.app.tell('child-process-gone', {} as never, gone);
    expect(await log()).toContain('from the next start on the driver is done without');
    expect((await begin({ folder })).electron.said).toContain('no acceleration');
    expect(electron.asked).toEqual([]);
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

it('a mistake before there is a window is told in a box that needs none', async () => {
  const { electron, fault, log } = await begin();
  fault(new TypeError('x is undefined'));
  await until(() => electron.said.some((words) => words.startsWith('error box')));
  expect(electron.said.at(-1)).toContain('an error of its own.: x is undefined');
  expect(electron.asked).toEqual([]);
  expect(await log()).toContain('x is undefined');
  electron.becomeReady();
  await until(() => electron.windows.length > 0);
});

it('crashes of the program are named at the end of the log', async () => {
  const { electron, folder } = await opened();
  await writeFile(join(folder, 'crash.dmp'), 'MDMP');
  const about = await electron.invoke('about', {});
  expect(about).toMatchObject({
    value: { log: expect.stringMatching(/^A crash report in .* nothing sends/) as string },
  });
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
