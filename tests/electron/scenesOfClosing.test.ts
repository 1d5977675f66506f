import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it, vi } from 'vitest';
import { begin, copy, edit, moveTime, opened, until } from './support/scene';
import { preventable } from './support/events';

// Scenes of closing and ending against a stand-in, in the order of events that Electron documents.

moveTime();

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

  it.each([false, true])(
    'of a page that says nothing for two seconds is asked about once (with unsaved edits: %s)',
    async (unsaved) => {
      const { electron } = await opened();
      if (unsaved) await edit(electron);
      // Its unloading would wait for it without an end.
      electron.window.unload = 'hangs';
      electron.window.webContents.page = () => undefined;
      electron.answers.push(0, 1);
      electron.window.close();
      await vi.advanceTimersByTimeAsync(1900);
      expect(electron.asked).toEqual([]);
      await vi.advanceTimersByTimeAsync(200);
      expect(electron.asked[0]?.buttons).toEqual(['Wait', 'Close without waiting']);
      expect(electron.windows).toHaveLength(1);
      electron.app.quit();
      await vi.advanceTimersByTimeAsync(2100);
      await until(() => electron.said.includes('ended'));
      expect(electron.asked).toHaveLength(2);
    },
  );

  it('takes no page to be silent because the one before it was', async () => {
    const { electron } = await opened();
    const { webContents } = electron.window;
    webContents.page = () => undefined;
    electron.power.tell('lock-screen');
    await vi.advanceTimersByTimeAsync(3000);
    webContents.tell('did-start-navigation', { isMainFrame: true, isSameDocument: false });
    await electron.invoke('listening', {});
    webContents.page = (event) => {
      if (event === 'keepNow') void electron.invoke('workKept', {});
    };
    electron.window.close();
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toEqual([]);
  });

  it('of a page that hangs is asked about in one box, whatever Electron notices besides', async () => {
    const { electron } = await opened();
    electron.window.webContents.page = () => undefined;
    let answer: (number: number) => void = () => undefined;
    electron.answers.push(new Promise<number>((resolve) => (answer = resolve)));
    electron.window.close();
    await vi.advanceTimersByTimeAsync(2100);
    electron.window.tell('unresponsive');
    electron.window.tell('responsive');
    expect(electron.asked).toHaveLength(1);
    answer(0);
    await turn();
    // Left open, it is asked about as ever.
    electron.answers.push(0);
    electron.window.tell('unresponsive');
    expect(electron.asked).toHaveLength(2);
  });

  it('takes an answer to an earlier question for no word on a later one', async () => {
    const { electron } = await opened();
    const page: string[] = [];
    electron.window.webContents.page = (event) => void page.push(event);
    electron.power.tell('lock-screen');
    electron.window.close();
    expect(page).toEqual(['keepNow', 'keepNow']);
    await electron.invoke('workKept', {});
    await vi.advanceTimersByTimeAsync(100);
    expect(electron.windows).toHaveLength(1);
    await electron.invoke('workKept', {});
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toEqual([]);
  });

  it('of a page that does not listen yet asks nobody', async () => {
    const { electron } = await begin();
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    electron.window.close();
    await until(() => electron.said.includes('ended'));
    expect(electron.said).not.toContain('tell keepNow');
    expect(electron.asked).toEqual([]);
  });

  it('is held up by no page unseen', async () => {
    const { electron } = await opened();
    electron.window.unload = 'stays';
    electron.window.close();
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

  it('of each window is a matter of its own: of its edits, of its question, of its end (macOS)', async () => {
    const { electron } = await opened({ platform: 'darwin' });
    const again = async (): Promise<void> => {
      electron.app.tell('activate', {} as never, false);
      await electron.invoke('listening', {});
      electron.window.webContents.page = (event) => {
        if (event === 'keepNow') void electron.invoke('workKept', {});
      };
    };
    const closed = () => until(() => electron.windows.length === 0);
    // The program is to end, and the person stays: to close is no more than to close from then on.
    await edit(electron);
    electron.answers.push(0);
    electron.app.quit();
    await until(() => electron.asked.length === 1);
    await turn();
    electron.answers.push(1);
    electron.window.close();
    await closed();
    expect(electron.said).not.toContain('ended');
    // Nothing is unsaved in the next window.
    await again();
    electron.window.close();
    await closed();
    expect(electron.asked).toHaveLength(2);
    // What is unsaved there is asked about.
    await again();
    await edit(electron);
    electron.answers.push(0);
    electron.window.close();
    await until(() => electron.asked.length === 3);
    expect(electron.windows).toHaveLength(1);
  });

  it('waits for nobody where the page goes before it answers', async () => {
    const { electron } = await opened();
    electron.window.webContents.page = () => undefined;
    // The box about the page that has gone still stands.
    electron.answers.push(new Promise<number>(() => undefined));
    electron.window.close();
    electron.window.webContents.crash();
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toHaveLength(1);
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

  it('about to end waits until the work is kept, and asks nobody', async () => {
    const { electron } = await opened();
    await edit(electron);
    const event = preventable();
    electron.power.tell('shutdown', event);
    expect(event.defaultPrevented).toBe(true);
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toEqual([]);
    expect(electron.said[0]).toBe('tell keepNow');
  });

  it('about to end waits two seconds for a page that says nothing, and asks nobody', async () => {
    const { electron } = await opened();
    await edit(electron);
    electron.window.unload = 'hangs';
    electron.window.webContents.page = () => undefined;
    electron.power.tell('shutdown', preventable());
    await vi.advanceTimersByTimeAsync(2100);
    await until(() => electron.said.includes('ended'));
    expect(electron.asked).toEqual([]);
  });

  it('about to end asks nobody though the program is asked to quit as well, before or after', async () => {
    for (const first of ['quit', 'shutdown']) {
      const { electron } = await opened({ platform: 'darwin' });
      await edit(electron);
      const page: string[] = [];
      electron.window.webContents.page = (event) => void page.push(event);
      if (first === 'quit') electron.app.quit();
      electron.power.tell('shutdown', preventable());
      if (first === 'shutdown') electron.app.quit();
      electron.power.tell('shutdown', preventable());
      for (const asked of page) {
        expect(asked).toBe('keepNow');
        await electron.invoke('workKept', {});
      }
      await until(() => electron.said.includes('ended'));
      expect(electron.asked).toEqual([]);
    }
  });

  // Windows asks by `query-session-end`; `before-quit` and `close` do not come.
  it.each([
    ['nothing is unsaved', false, 'shutdown', false],
    ['edits are unsaved', true, 'shutdown', true],
    ['edits are unsaved', true, 'logoff', true],
    ['edits are unsaved and nothing waits', true, 'critical', false],
  ] as const)('that ends a session on Windows: %s', async (_what, unsaved, reason, waits) => {
    const { electron } = await opened({ platform: 'win32' });
    if (unsaved) await edit(electron);
    const event = Object.assign(preventable(), { reasons: [reason] });
    electron.window.tell('query-session-end', event);
    expect(event.defaultPrevented).toBe(waits);
    expect(electron.said[0]).toBe('tell keepNow');
    if (waits) await until(() => electron.said.includes('ended'));
    else electron.window.tell('session-end', event);
    expect(electron.said.filter((words) => words === 'tell keepNow')).toHaveLength(waits ? 1 : 2);
    expect(electron.asked).toEqual([]);
  });
});
