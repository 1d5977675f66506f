import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { afterEach, beforeEach, expect, vi } from 'vitest';
import { runShell } from '../../../electron/services/window/shell';
import { tempFolder } from '../tempFolder';
import { ElectronStandIn } from './standIn';

// What scenes of the main process are played with.

export const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';

/** Time is moved by the scenes; the disk works as ever. */
export function moveTime(): void {
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  });
  afterEach(() => void vi.useRealTimers());
}

export async function until(come: () => boolean): Promise<void> {
  const end = Date.now() + 20_000;
  while (!come() && Date.now() < end) await turn();
  expect(come()).toBe(true);
}

export interface Scene {
  electron: ElectronStandIn;
  folder: string;
  fault: (error: unknown) => void;
  log: () => Promise<string>;
}

export async function begin({
  folder: former = '',
  argv = [] as string[],
  platform = 'linux' as NodeJS.Platform,
  prepare = (_electron: ElectronStandIn): unknown => undefined,
} = {}): Promise<Scene> {
  const folder = former || (await tempFolder());
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
export async function opened(options: Parameters<typeof begin>[0] = {}): Promise<Scene> {
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

export const edit = (electron: ElectronStandIn) => electron.invoke('setUnsaved', { unsaved: true });
