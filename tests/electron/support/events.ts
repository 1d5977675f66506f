import { EventEmitter } from 'node:events';
import type {
  App,
  BrowserWindow,
  Details,
  Event,
  PowerMonitor,
  RenderProcessGoneDetails,
  WebContents,
  WindowSessionEndEvent,
} from 'electron';

// Electron's events as far as the shell hears them, with what each brings.

export interface AppEvents {
  'open-file': [Event, string];
  'second-instance': [Event, string[], string];
  activate: [Event, boolean];
  'web-contents-created': [Event, WebContents];
  'child-process-gone': [Event, Details];
  'before-quit': [Event];
  'window-all-closed': [];
}

export interface WindowEvents {
  'ready-to-show': [];
  close: [Event];
  closed: [];
  unresponsive: [];
  responsive: [];
  'query-session-end': [WindowSessionEndEvent];
  'session-end': [WindowSessionEndEvent];
}

export interface ContentsEvents {
  'did-start-navigation': [{ isMainFrame: boolean; isSameDocument: boolean }];
  'render-process-gone': [Event, RenderProcessGoneDetails];
  'did-fail-load': [Event, number, string, string, boolean];
  'preload-error': [Event, string, Error];
  'will-navigate': [{ url: string; preventDefault(): void }];
  'will-prevent-unload': [Event];
}

export interface PowerEvents {
  suspend: [];
  'lock-screen': [];
  /** Electron's types leave the event out, which its documentation has. */
  shutdown: [Event];
}

/** Never called: here the compiler finds an event that Electron does not know, or passes otherwise. */
export function agreeWithElectron(
  app: App,
  window: BrowserWindow,
  contents: WebContents,
  power: PowerMonitor,
): void {
  app.on('open-file', (...given) => void (given satisfies AppEvents['open-file']));
  app.on('second-instance', (event, argv, folder) => {
    void ([event, argv, folder] satisfies AppEvents['second-instance']);
  });
  app.on('activate', (...given) => void (given satisfies AppEvents['activate']));
  app.on(
    'web-contents-created',
    (...given) => void (given satisfies AppEvents['web-contents-created']),
  );
  app.on(
    'child-process-gone',
    (...given) => void (given satisfies AppEvents['child-process-gone']),
  );
  app.on('before-quit', (...given) => void (given satisfies AppEvents['before-quit']));
  app.on('window-all-closed', (...given) => void (given satisfies []));
  window.on('ready-to-show', (...given) => void (given satisfies []));
  window.on('close', (...given) => void (given satisfies WindowEvents['close']));
  window.on('closed', (...given) => void (given satisfies []));
  window.on('unresponsive', (...given) => void (given satisfies []));
  window.on('responsive', (...given) => void (given satisfies []));
  window.on(
    'query-session-end',
    (...given) => void (given satisfies WindowEvents['query-session-end']),
  );
  window.on('session-end', (...given) => void (given satisfies WindowEvents['session-end']));
  contents.on('did-start-navigation', (details) => {
    void ([details] satisfies ContentsEvents['did-start-navigation']);
  });
  contents.on('render-process-gone', (...given) => {
    void (given satisfies ContentsEvents['render-process-gone']);
  });
  contents.on('did-fail-load', (event, code, description, url, isMainFrame) => {
    void ([event, code, description, url, isMainFrame] satisfies ContentsEvents['did-fail-load']);
  });
  contents.on('preload-error', (...given) => {
    void (given satisfies ContentsEvents['preload-error']);
  });
  contents.on('will-navigate', (details) => {
    void ([details] satisfies ContentsEvents['will-navigate']);
  });
  power.on('suspend', (...given) => void (given satisfies []));
  contents.on('will-prevent-unload', (...given) => {
    void (given satisfies ContentsEvents['will-prevent-unload']);
  });
  power.on('lock-screen', (...given) => void (given satisfies []));
  power.on('shutdown', (...given) => void (given satisfies []));
}

export class Emits<Events> extends EventEmitter {
  tell<E extends keyof Events & string>(
    name: E,
    ...given: Events[E] extends unknown[] ? Events[E] : never
  ): void {
    this.emit(name, ...given);
  }
}

/** An event that can be prevented. */
export function preventable(): Event & { readonly defaultPrevented: boolean } {
  let prevented = false;
  const event = {
    get defaultPrevented() {
      return prevented;
    },
    preventDefault: () => void (prevented = true),
  };
  return event as Event & { readonly defaultPrevented: boolean };
}
