import { join } from 'node:path';
import { createBridge } from '../../../electron/bridge';
import { createShellApi } from '../../../electron/services/handlers';
import { answer } from '../../../electron/services/window/ipc';
import { ErrorLog } from '../../../electron/services/errorLog';
import { OpenFiles } from '../../../electron/services/openFiles';
import { Recents } from '../../../electron/services/recents';
import { Recovery } from '../../../electron/services/recovery';
import { desktopHost } from '../../../renderer/host/desktop';
import type { Host } from '../../../renderer/host/host';

/** The desktop host over the real services on a folder; whoever is asked for a file names `path`. */
export function hostOn(folder: string, path: string): Host {
  const now = (): Date => new Date();
  const choose = (): Promise<string> => Promise.resolve(path);
  const { handlers } = createShellApi({
    dialogs: { openFile: choose, saveFile: choose },
    recents: new Recents(join(folder, 'recent-plans.json'), now),
    recovery: new Recovery(join(folder, 'recovery'), now),
    openFiles: new OpenFiles(join(folder, 'open')),
    printer: {
      print: () => Promise.resolve(),
      pdf: () => Promise.resolve(new Uint8Array()),
    },
    setUnsaved: () => undefined,
    errors: new ErrorLog(join(folder, 'errors.log'), now),
    dataFolder: folder,
    onListening: () => undefined,
    onWorkKept: () => undefined,
  });
  return desktopHost(
    createBridge(
      (channel, request) => answer(handlers, channel, structuredClone(request)),
      () => () => undefined,
    ),
  );
}
