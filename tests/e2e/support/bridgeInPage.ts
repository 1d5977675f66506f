import { createBridge } from '../../../electron/bridge';
import type { ShellAnswer } from '../../../shared-types/window/ipc';

// Bundled and put into the page before it loads: the bridge of the preload, over a transport that
// Playwright offers in the place of Electron's messages.

type Listener = (payload: unknown) => void;

declare global {
  interface Window {
    evenrackCall(channel: string, request: unknown): Promise<ShellAnswer>;
    evenrackTell(event: string, payload: unknown): void;
  }
}

const listeners = new Map<string, Set<Listener>>();

const bridge = createBridge(
  (channel, request) => window.evenrackCall(channel, request),
  (event, listener) => {
    const heard = listeners.get(event) ?? new Set<Listener>();
    listeners.set(event, heard.add(listener));
    return () => heard.delete(listener);
  },
);

window.evenrackTell = (event, payload) =>
  listeners.get(event)?.forEach((listener) => listener(payload));
Object.defineProperty(window, 'evenrackBridge', { value: Object.freeze(bridge) });
