// Stands where the bundled main file imports Electron: plays one start, and prints what was done.
import { setTimeout as pause } from 'node:timers/promises';
import { ElectronStandIn } from './standIn';

const electron = new ElectronStandIn(process.env['FAKE_DATA'] ?? '');
electron.lock = process.env['FAKE_LOCK'] !== 'taken';
export const {
  app,
  BrowserWindow,
  crashReporter,
  dialog,
  ipcMain,
  Menu,
  powerMonitor,
  protocol,
  session,
} = electron.runtime();

const has = (words: string): boolean => electron.said.some((said) => said.startsWith(words));

/** A loaded machine is slow: what is to come is waited for, up to a bound. */
async function until(come: () => boolean): Promise<void> {
  for (let i = 0; i < 500 && !come(); i++) await pause(10);
}

setTimeout(async () => {
  electron.note('before ready');
  electron.becomeReady();
  await until(() => has('show') || has('ended'));
  if (has('show')) {
    await electron.invoke('listening', {});
    const words = ['app', 'plan.evenrack'];
    electron.app.tell('second-instance', {} as never, words, electron.data);
    await until(() => has('tell'));
  }
  console.log(JSON.stringify({ said: electron.said, channels: [...electron.listeners.keys()] }));
  process.exit(0);
}, 20);
