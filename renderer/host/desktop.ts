import type { Bridge } from '../../shared-types/ipc';
import { fileName } from './fileName';
import type { Host } from './host';

/** The host over the desktop shell: everything is done by the shell, on real files. */
export function desktopHost(bridge: Bridge): Host {
  let listening = false;
  return {
    kind: 'desktop',
    open: (kind) => bridge.open({ kind }),
    openRecent: (ref) => bridge.openRecent({ ref }),
    recentPlans: () => bridge.recentPlans({}),
    save: (ref, text, copy) => bridge.save({ ref, text, copy }),
    saveAs: (name, text, copy) => bridge.saveAs({ suggestedName: fileName(name), text, copy }),
    exportText(name, kind, content) {
      const suggestedName = fileName(name);
      return bridge.exportText(
        typeof content === 'string'
          ? { suggestedName, kind, text: content }
          : { suggestedName, kind, text: oneSignAByte(content), bytes: true },
      );
    },
    async print(html) {
      await bridge.print({ html });
    },
    savePdf: (name, html) => bridge.savePdf({ suggestedName: fileName(name), html }),
    async keepForRecovery(copy, text, ref) {
      await bridge.keepForRecovery({ copy, text, ref });
    },
    recoveries: () => bridge.recoveries({}),
    async forgetRecovery(copy) {
      await bridge.forgetRecovery({ copy });
    },
    holdFile: (ref) => bridge.holdFile({ ref }),
    setUnsaved(unsaved) {
      void bridge.setUnsaved({ unsaved });
    },
    onOpenRequest(listener, onFailure) {
      const stops = [
        bridge.on('openRequest', listener),
        bridge.on('openFailed', (message) => onFailure?.(message)),
      ];
      if (!listening) {
        listening = true;
        // Asks for the plan that the app was started with, now that somebody is there to take it.
        void bridge.listening({});
      }
      return () => stops.forEach((stop) => stop());
    },
    onMenu: (listener) => bridge.on('menu', listener),
  };
}

/** Bytes as a text, in parts: a call takes only so many arguments. */
function oneSignAByte(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let i = 0; i < bytes.length; i += 8192) {
    parts.push(String.fromCharCode(...bytes.subarray(i, i + 8192)));
  }
  return parts.join('');
}
