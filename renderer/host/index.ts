import type { Bridge } from '../../shared-types/window/ipc';
import { browserHost } from './browser';
import { desktopHost } from './desktop';
import type { Host } from './host';

export type * from './host';
export { storedSettings, type Settings } from './settings';

/** The desktop shell where its bridge stands in the window, otherwise the browser. */
export function chooseHost(window: Window & { readonly evenrackBridge?: Bridge }): Host {
  return window.evenrackBridge ? desktopHost(window.evenrackBridge) : browserHost(window);
}
