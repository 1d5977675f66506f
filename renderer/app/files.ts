import { emptyPlan } from '../document/new';
import { readPlan, sayProblem, writePlan } from '../document/open';
import type { FileRef, Host, OpenedText } from '../host/host';
import type { Stores } from '../store/context';
import { isUnsaved } from '../store/planStore';
import { examples } from './examples';

/** What the person can do with files. Each answers null, or a sentence that says what went wrong. */
export interface FileActions {
  newPlan(): Promise<string | null>;
  open(): Promise<string | null>;
  openText(opened: OpenedText): Promise<string | null>;
  openRecent(ref: FileRef): Promise<string | null>;
  openExample(name: string): Promise<string | null>;
  recover(text: string, ref: FileRef | null): string | null;
  save(): Promise<string | null>;
  saveAs(): Promise<string | null>;
  close(): Promise<void>;
}

/** `mayLeave` asks before unsaved work would go. */
export function fileActions(
  host: Host,
  stores: Stores,
  mayLeave: () => Promise<boolean>,
): FileActions {
  const { plan: store, session } = stores;
  const show = (text: string, ref: FileRef | null): string | null => {
    const read = readPlan(text);
    if (!read.ok) return sayProblem(read.problem);
    store.getState().open(read.plan, ref);
    session.getState().reset();
    return null;
  };
  const leaving = async () => !isUnsaved(store.getState()) || (await mayLeave());
  const saveTo = async (ref: FileRef | null): Promise<string | null> => {
    const { plan } = store.getState();
    if (!plan) return null;
    const text = writePlan(plan);
    return said(async () => {
      const saved = ref
        ? await host.save(ref, text)
        : await host.saveAs(`${fileNameOf(plan.title)}.evenrack`, text);
      if (saved) store.getState().markSaved(saved, plan);
      return null;
    });
  };
  return {
    async newPlan() {
      if (!(await leaving())) return null;
      store.getState().open(emptyPlan('Untitled trial'), null, true);
      session.getState().reset();
      return null;
    },
    async open() {
      if (!(await leaving())) return null;
      return said(async () => {
        const opened = await host.open('plan');
        return opened ? show(opened.text, opened.ref) : null;
      });
    },
    openText: async (opened) => ((await leaving()) ? show(opened.text, opened.ref) : null),
    async openRecent(ref) {
      if (!(await leaving())) return null;
      return said(async () => {
        const opened = await host.openRecent(ref);
        return show(opened.text, opened.ref);
      });
    },
    async openExample(name) {
      if (!(await leaving())) return null;
      const example = examples.find((e) => e.name === name);
      if (!example) return `There is no example called ${name}.`;
      const problem = show(await example.load(), null);
      // An example is not unsaved work until it is edited.
      const { plan } = store.getState();
      if (!problem && plan) store.getState().open(plan, null, true);
      return problem;
    },
    recover(text, ref) {
      const read = readPlan(text);
      if (!read.ok) return sayProblem(read.problem);
      store.getState().open(read.plan, ref, false);
      session.getState().reset();
      return null;
    },
    save: () => saveTo(store.getState().fileRef),
    saveAs: () => saveTo(null),
    async close() {
      if (!(await leaving())) return;
      store.getState().close();
      await host.forgetRecovery();
    },
  };
}

async function said(work: () => Promise<string | null>): Promise<string | null> {
  try {
    return await work();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

/** A title without the signs that file systems refuse. */
function fileNameOf(title: string): string {
  return title.replace(/[\\/:*?"<>|]+/g, ' ').trim();
}
