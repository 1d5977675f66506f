import type { ShellAnswer, Bridge } from '../../shared-types/window/ipc';
import { oneSignAByte } from '../tables/encoding';
import { Refusal } from '../words/refusal';
import { fileName } from './fileName';
import type { Host } from './host';

/** The log keeps less of it. */
const LONGEST_DETAILS = 20_000;

/** The host over the desktop shell: everything is done by the shell, on real files. */
export function desktopHost(bridge: Bridge): Host {
  let listening = false;
  return {
    kind: 'desktop',
    open: (kind) => told(bridge.open({ kind })),
    openRecent: (ref) => told(bridge.openRecent({ ref })),
    recentPlans: () => told(bridge.recentPlans({})),
    save: (ref, text, copy) => told(bridge.save({ ref, text, copy })),
    saveAs: (name, text, copy) =>
      told(bridge.saveAs({ suggestedName: fileName(name), text, copy })),
    exportText(name, kind, content) {
      const suggestedName = fileName(name);
      return told(
        bridge.exportText(
          typeof content === 'string'
            ? { suggestedName, kind, text: content }
            : { suggestedName, kind, text: oneSignAByte(content), bytes: true },
        ),
      );
    },
    async print(html) {
      await told(bridge.print({ html }));
    },
    savePdf: (name, html, attachments = []) =>
      told(bridge.savePdf({ suggestedName: fileName(name), html, attachments: [...attachments] })),
    async keepForRecovery(copy, text, ref) {
      await told(bridge.keepForRecovery({ copy, text, ref }));
    },
    recoveries: () => told(bridge.recoveries({})),
    async forgetRecovery(copy) {
      await told(bridge.forgetRecovery({ copy }));
    },
    holdFile: (ref) => told(bridge.holdFile({ ref })),
    setUnsaved(unsaved) {
      void told(bridge.setUnsaved({ unsaved }));
    },
    onOpenRequest(listener, onFailure) {
      const stops = [
        bridge.on('openRequest', listener),
        bridge.on('openFailed', (message) => onFailure?.(message)),
      ];
      if (!listening) {
        listening = true;
        // Asks for the plan that the app was started with, now that somebody is there to take it.
        void told(bridge.listening({}));
      }
      return () => stops.forEach((stop) => stop());
    },
    onMenu: (listener) => bridge.on('menu', listener),
    onKeepNow: (keep) =>
      bridge.on('keepNow', () => void keep().finally(() => told(bridge.workKept({})))),
    noteError(details) {
      void told(bridge.noteError({ details: details.slice(0, LONGEST_DETAILS) }));
    },
    about: () => told(bridge.about({})),
  };
}

/** What the shell answers; its sentence as a refusal where a file or the disk is at fault. */
async function told<T>(asked: Promise<ShellAnswer<T>>): Promise<T> {
  const answer = await asked;
  if (!answer.ok) throw new Refusal(answer.message);
  return answer.value;
}
