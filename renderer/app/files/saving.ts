import { everythingOf } from '../../document/everything';
import { writePlan } from '../../document/open';
import type { FileRef, Host } from '../../host/host';
import type { Stores } from '../../store/context';
import { zipOf } from '../../tables';
import type { Conflict, Settlement } from './ConflictDialog';
import { orReason, showText } from './showText';

/** What writes the open plan. */
export interface SaveActions {
  save(): Promise<string | null>;
  saveAs(): Promise<string | null>;
  /** All that the plan holds, in open formats, as one archive. */
  exportAll(): Promise<string | null>;
}

/** `settle` asks what to do where somebody else has changed the file. */
export function saveActions(
  host: Host,
  stores: Stores,
  settle: (conflict: Conflict) => Promise<Settlement>,
): SaveActions {
  const { plan: store } = stores;
  const saveAs = async (addition = ''): Promise<string | null> => {
    const { plan, copyId } = store.getState();
    if (!plan) return null;
    const saved = await host.saveAs(`${plan.title}${addition}.evenrack`, writePlan(plan), copyId);
    if (saved) store.getState().markSaved(saved, plan);
    return null;
  };
  /** `ref` tells which state of the file may be written over. */
  const saveOver = async (ref: FileRef): Promise<string | null> => {
    const { plan, copyId } = store.getState();
    if (!plan) return null;
    const saved = await host.save(ref, writePlan(plan), copyId);
    if (saved.kind === 'saved') {
      store.getState().markSaved(saved.ref, plan);
      return null;
    }
    const { theirs } = saved;
    switch (await settle({ mine: plan, theirs })) {
      case 'both':
        return saveAs(' (mine)');
      case 'theirs':
        return showText(stores, theirs.text ?? '', theirs.ref);
      case 'overwrite':
        return saveOver({ ...ref, seen: theirs.ref.seen });
      case 'neither':
        return null;
    }
  };
  // One after the other: the second must know what the first has written.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = (work: () => Promise<string | null>): Promise<string | null> => {
    const result = last.then(() => orReason(work));
    // A mistake of one is told where mistakes are, and holds up none that come later.
    last = result.catch((_told: unknown) => undefined);
    return result;
  };

  return {
    save: () =>
      inTurn(() => {
        const { fileRef } = store.getState();
        return fileRef ? saveOver(fileRef) : saveAs();
      }),
    saveAs: () => inTurn(saveAs),
    exportAll: () =>
      orReason(async () => {
        const { plan } = store.getState();
        if (!plan) return null;
        const archive = await zipOf(everythingOf(plan), wallClock(new Date()));
        await host.exportText(`${plan.title} – everything.zip`, 'zip', archive);
        return null;
      }),
  };
}

const wallClock = (at: Date) => ({
  year: at.getFullYear(),
  month: at.getMonth() + 1,
  day: at.getDate(),
  hour: at.getHours(),
  minute: at.getMinutes(),
});
