import { mkdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import type { FileRef } from '../../shared-types/window/ipc';
import { begin, copy, edit, moveTime, opened, until, type Scene } from './support/scene';
import { preventable } from './support/events';
import type { ElectronStandIn } from './support/standIn';

// Scenes of files that the system names, in the order of events that Electron documents.

moveTime();

/** Long enough for a small file to be read and told. */
async function settled(): Promise<void> {
  const end = Date.now() + 150;
  while (Date.now() < end) await turn();
}

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

  it('two at once, before the window listens and after, come one after the other', async () => {
    const { electron, folder } = await begin({ platform: 'darwin' });
    const [one, two] = [await plan(folder, '1.evenrack'), await plan(folder, '2.evenrack')];
    const event = { preventDefault: () => undefined } as never;
    electron.app.tell('open-file', event, one);
    electron.app.tell('open-file', event, two);
    electron.becomeReady();
    await until(() => electron.windows.length > 0);
    const heard = openedPlans(electron);
    await electron.invoke('listening', {});
    await until(() => heard.length === 2);
    electron.app.tell('open-file', event, two);
    electron.app.tell('open-file', event, one);
    await until(() => heard.length === 4);
    const name = (words: string): unknown => expect.objectContaining({ name: words });
    expect(heard).toMatchObject([
      { ref: name('1.evenrack') },
      { ref: name('2.evenrack') },
      { ref: name('2.evenrack') },
      { ref: name('1.evenrack') },
    ]);
  });

  it('one whose page goes before it is read is opened in the next', async () => {
    const { electron, folder } = await opened();
    const path = await plan(folder);
    const openIt = (): void =>
      electron.app.tell('second-instance', {} as never, ['evenrack', path], '/');
    openIt();
    electron.answers.push(0);
    electron.window.webContents.crash();
    await until(() => electron.said.some((words) => words.startsWith('load')));
    const heard = openedPlans(electron);
    // It is there, but does not listen yet.
    await settled();
    expect(heard).toEqual([]);
    await electron.invoke('listening', {});
    await until(() => heard.length === 1);
    expect(heard[0]).toMatchObject({ ref: { key: path } });
  });

  it('one that is named while the page has gone waits for the next', async () => {
    const { electron, folder } = await opened();
    const path = await plan(folder);
    let again: (answer: number) => void = () => undefined;
    electron.answers.push(new Promise<number>((resolve) => (again = resolve)));
    electron.window.webContents.crash();
    electron.app.tell('second-instance', {} as never, ['evenrack', path], '/');
    await settled();
    again(0);
    await until(() => electron.said.some((words) => words.startsWith('load')));
    const heard = openedPlans(electron);
    await electron.invoke('listening', {});
    await until(() => heard.length === 1);
  });

  it('waits for a page that is loaded anew, and not for one that goes within itself', async () => {
    const { electron, folder } = await opened();
    const path = await plan(folder);
    const heard = openedPlans(electron);
    const openIt = async (): Promise<void> => {
      electron.app.tell('second-instance', {} as never, ['evenrack', path], '/');
      await settled();
    };
    const { webContents } = electron.window;
    webContents.tell('did-start-navigation', { isMainFrame: true, isSameDocument: true });
    webContents.tell('did-start-navigation', { isMainFrame: false, isSameDocument: false });
    await openIt();
    await until(() => heard.length === 1);
    webContents.tell('did-start-navigation', { isMainFrame: true, isSameDocument: false });
    await openIt();
    expect(heard).toHaveLength(1);
    await electron.invoke('listening', {});
    await until(() => heard.length === 2);
  });

  it('is taken over from the system, and a mistake in it is told as one', async () => {
    const { electron, folder, log } = await opened({ platform: 'darwin' });
    electron.brokenRecents = true;
    electron.answers.push(0);
    const event = preventable();
    electron.app.tell('open-file', event, await plan(folder));
    expect(event.defaultPrevented).toBe(true);
    await until(() => electron.asked.length === 1);
    expect(electron.asked[0]?.message).toBe('Evenrack has met an error of its own.');
    expect(await log()).toContain('TypeError: x is undefined');
  });

  it('a recent one that has gone is told by its path, and stays in the list', async () => {
    const { electron, folder } = await opened();
    const path = await plan(folder);
    electron.chosen.push(path);
    await electron.invoke('open', { kind: 'plan' });
    await rm(path);
    const ref = { key: path, name: 'a plan.evenrack', seen: null };
    expect(await electron.invoke('openRecent', { ref })).toEqual({
      ok: false,
      message: `${path}: cannot be read, there is no such file or folder`,
    });
    expect(await electron.invoke('recentPlans', {})).toMatchObject({ value: [{ ref }] });
  });
});

describe('a plan that is open', () => {
  /** A window with a plan that it has opened from a folder of its own. */
  async function withPlan() {
    const scene = await opened();
    const place = join(scene.folder, 'plans');
    await mkdir(place);
    const path = join(place, 'a.evenrack');
    await writeFile(path, 'first');
    scene.electron.chosen.push(path);
    const { value } = (await scene.electron.invoke('open', { kind: 'plan' })) as {
      value: { ref: FileRef };
    };
    const save = (text: string, ref = value.ref) =>
      scene.electron.invoke('save', { ref, text, copy });
    const keep = (text: string) =>
      scene.electron.invoke('keepForRecovery', { copy, text, ref: value.ref });
    return { ...scene, place, path, ref: value.ref, save, keep };
  }

  /** What is kept of it, as the next start finds it. */
  async function found({ folder }: Scene): Promise<unknown> {
    const next = await opened({ folder });
    return next.electron.invoke('recoveries', {});
  }

  it('is saved whole though its page crashes meanwhile, and nothing is offered again', async () => {
    const scene = await withPlan();
    await edit(scene.electron);
    await scene.keep('second');
    const saving = scene.save('second');
    scene.electron.answers.push(0);
    scene.electron.window.webContents.crash();
    await saving;
    expect(await readFile(scene.path, 'utf8')).toBe('second');
    expect(await found(scene)).toEqual({ ok: true, value: [] });
  });

  it('is saved whole though the computer sleeps or ends meanwhile', async () => {
    const { electron, path, save } = await withPlan();
    const saving = save('second');
    electron.power.tell('suspend');
    electron.power.tell('shutdown', preventable());
    await saving;
    await until(() => electron.said.includes('ended'));
    expect(await readFile(path, 'utf8')).toBe('second');
    expect(electron.asked).toEqual([]);
  });

  it('keeps an edit over a crash and offers it with its file', async () => {
    const scene = await withPlan();
    await scene.keep('second');
    scene.electron.answers.push(1);
    scene.electron.window.webContents.crash('oom');
    await until(() => scene.electron.said.includes('ended'));
    expect(await found(scene)).toMatchObject({
      value: [{ copy, kept: { text: 'second' }, file: { text: 'first' } }],
    });
  });

  it.each([
    ['deleted', (path: string) => rm(path), 'saved'],
    ['renamed', (path: string) => rename(path, `${path}.old`), 'saved'],
    ['changed', (path: string) => writeFile(path, 'theirs'), 'changed'],
  ])('whose file is %s meanwhile: %s', async (_what, act, kind) => {
    const { path, save } = await withPlan();
    await act(path);
    expect(await save('second')).toMatchObject({ ok: true, value: { kind } });
    expect(await readFile(path, 'utf8')).toBe(kind === 'saved' ? 'second' : 'theirs');
  });

  const refusals: [string, (path: string, place: string) => Promise<unknown>, RegExp][] = [
    [
      'has a folder in its place',
      async (path) => {
        await rm(path);
        await mkdir(path);
      },
      /cannot be saved, it is a folder or device, not a file/,
    ],
    [
      'has a link in its place',
      async (path, place) => {
        await rm(path);
        await writeFile(join(place, 'other'), 'other');
        await symlink(join(place, 'other'), path);
      },
      /now leads to .*other; open that file or save under a name first/,
    ],
    [
      'has a link on its way',
      async (_path, place) => {
        await rename(place, `${place}2`);
        await symlink(`${place}2`, place);
      },
      /now leads to .*plans2/,
    ],
    [
      'lies on a drive that has gone',
      (_path, place) => rm(place, { recursive: true }),
      /there is no such file or folder/,
    ],
  ];
  it.each(refusals)('whose file %s is not saved, and its copy is kept', async (_what, act, why) => {
    const scene = await withPlan();
    await act(scene.path, scene.place);
    await scene.keep('second');
    const told = (await scene.save('second')) as { ok: boolean; message: string };
    expect(told.ok).toBe(false);
    expect(told.message).toMatch(why);
    expect(await found(scene)).toMatchObject({ value: [{ copy, kept: { text: 'second' } }] });
  });

  it('under a path too long for the disk is refused in a sentence', async () => {
    const { electron, place } = await withPlan();
    const saveAs = { suggestedName: 'a', text: 'second', copy };
    electron.chosen.push(join(place, `${'x'.repeat(300)}.evenrack`));
    const long = (await electron.invoke('saveAs', saveAs)) as { message: string };
    expect(long.message).toContain('the name is too long');
    electron.chosen.push(join(place, ...Array.from({ length: 30 }, () => 'x'.repeat(200)), 'a'));
    const far = (await electron.invoke('saveAs', saveAs)) as { message: string };
    expect(far.message).toMatch(/too long|no such file or folder/);
  });

  it('by another spelling is the same file: links, dots and doubled signs are followed', async () => {
    const { electron, place, path, folder } = await withPlan();
    await symlink(place, join(folder, 'short'));
    for (const spelling of [
      join(folder, 'short', 'a.evenrack'),
      `${place}/./a.evenrack`,
      `${place}//a.evenrack`,
      `${place}/../plans/a.evenrack`,
    ]) {
      electron.chosen.push(spelling);
      const told = await electron.invoke('open', { kind: 'plan' });
      expect(told).toMatchObject({ value: { ref: { key: path } } });
    }
  });
});
