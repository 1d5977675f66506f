import { contextBridge, ipcRenderer } from 'electron';
import type { ShellAnswer } from '../shared-types/window/ipc';
import { createBridge } from './bridge';

const bridge = createBridge(
  (channel, request) => ipcRenderer.invoke(channel, request) as Promise<ShellAnswer>,
  (event, listener) => {
    // The page never sees Electron's event object, which carries the sender.
    const forward = (_event: unknown, payload: unknown): void => listener(payload);
    ipcRenderer.on(event, forward);
    return () => ipcRenderer.removeListener(event, forward);
  },
);

contextBridge.exposeInMainWorld('evenrackBridge', bridge);
