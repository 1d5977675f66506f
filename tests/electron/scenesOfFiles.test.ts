import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { begin, moveTime, opened, until } from './support/scene';
import type { ElectronStandIn } from './support/standIn';

// Scenes of files that the system names, in the order of events that Electron documents.

moveTime();

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
