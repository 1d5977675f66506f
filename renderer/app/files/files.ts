import type { Plan } from '../../../shared-types/plan';
import { nextTrialFrom } from '../../document/nextTrial';
import { everythingOf } from '../../document/everything';
import { emptyPlan } from '../../document/new';
import { readPlan, sayProblem, writePlan } from '../../document/open';
import type { FileRef, Host, OpenedText } from '../../host/host';
import type { Stores } from '../../store/context';
import { isUnsaved } from '../../store/planStore';
import type { Conflict, Settlement } from './ConflictDialog';
import { examples } from '../examples';
import { EXAMPLE_SHOWN } from '../exampleShown';
import type { UsableCopy } from './recoveries';
import { zipOf } from '../../tables';
import { reasonOf } from '../../words';

/** What the person can do with files. Each answers null, or a sentence that says what went wrong. */
export interface FileActions {
  newPlan(): Promise<string | null>;
  /** A new plan, on the page that makes it of a few answers. */
  quickStart(): Promise<string | null>;
  open(): Promise<string | null>;
  openText(opened: OpenedText): Promise<string | null>;
  /** A plan of which the text alone is known: where it is saved to is asked. */
  openCopy(name: string, read: () => Promise<string>): Promise<string | null>;
  openRecent(ref: FileRef): Promise<string | null>;
  /** The trial after the open plan, or after one that was open before, in its place. */
  nextTrial(recent?: FileRef): Promise<string | null>;
  openExample(name: string): Promise<string | null>;
  /** Goes on with a copy, under a name of this session; the old copy goes once that is kept. */
  recover(copy: Pick<UsableCopy, 'copy' | 'plan' | 'text' | 'ref'>): Promise<string | null>;
  save(): Promise<string | null>;
  saveAs(): Promise<string | null>;
  /** All that the plan holds, in open formats, as one archive. */
  exportAll(): Promise<string | null>;
  close(): Promise<void>;
}

/**
 * `mayLeave` asks before unsaved work would go, `settle` what to do where somebody else has changed
 * the file, `next` what the trial after a plan takes over.
 */
export function fileActions(
  host: Host,
  stores: Stores,
  mayLeave: () => Promise<boolean>,
  settle: (conflict: Conflict) => Promise<Settlement>,
  next: (plan: Plan) => Promise<Plan> = (plan) => Promise.resolve(nextTrialFrom(plan)),
): FileActions {
  const { plan: store, session } = stores;
  const show = (text: string, ref: FileRef | null): string | null => {
    const read = readPlan(text);
    if (!read.ok) return sayProblem(read.problem);
    store.getState().open(read.plan, ref);
    session.getState().reset();
    return null;
  };
  const newPlan = () => {
    const { usualHere, localeChoice } = session.getState();
    return emptyPlan('Untitled trial', localeChoice.units ?? usualHere.units);
  };
  const leaving = async () => !isUnsaved(store.getState()) || (await mayLeave());

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
        return show(theirs.text ?? '', theirs.ref);
      case 'overwrite':
        return saveOver({ ...ref, seen: theirs.ref.seen });
      case 'neither':
        return null;
    }
  };
  // One after the other: the second must know what the first has written.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = (work: () => Promise<string | null>): Promise<string | null> => {
    const result = last.then(() => said(work));
    // A mistake of one is told where mistakes are, and holds up none that come later.
    last = result.catch((_told: unknown) => undefined);
    return result;
  };

  return {
    async newPlan() {
      if (!(await leaving())) return null;
      store.getState().open(newPlan(), null, true);
      session.getState().reset();
      return null;
    },
    async quickStart() {
      if (!(await leaving())) return null;
      store.getState().open(newPlan(), null, true);
      session.getState().startQuickly();
      return null;
    },
    async open() {
      if (!(await leaving())) return null;
      return said(async () => {
        const opened = await host.open('plan');
        return opened ? show(opened.text, opened.ref) : null;
      });
    },
    async openText({ text, ref }) {
      const { fileRef } = store.getState();
      if (fileRef?.key === ref.key && fileRef.seen === ref.seen) {
        return `${ref.name}: is open in this window already.`;
      }
      return (await leaving()) ? show(text, ref) : null;
    },
    async openCopy(name, read) {
      const text = await read().catch((_gone: unknown) => null);
      if (text === null) return `${name}: cannot be read; it may be a folder, or have gone.`;
      const found = readPlan(text);
      if (!found.ok) return `${name}: ${sayProblem(found.problem)}`;
      if (!(await leaving())) return null;
      store.getState().open(found.plan, null);
      session.getState().reset();
      return null;
    },
    async openRecent(ref) {
      if (!(await leaving())) return null;
      return said(async () => {
        const opened = await host.openRecent(ref);
        return show(opened.text, opened.ref);
      });
    },
    async nextTrial(recent) {
      if (!(await leaving())) return null;
      return said(async () => {
        const read = recent ? readPlan((await host.openRecent(recent)).text) : null;
        if (read && !read.ok) return sayProblem(read.problem);
        const plan = read?.plan ?? store.getState().plan;
        if (!plan) return null;
        const made = await next(plan);
        // Another plan was opened while this one was looked at.
        if (!recent && store.getState().plan !== plan) return null;
        store.getState().open(made, null);
        session.getState().reset();
        session.getState().goTo('trial');
        return null;
      });
    },
    async openExample(name) {
      if (!(await leaving())) return null;
      const example = examples.find((e) => e.name === name);
      if (!example) return `There is no example called ${name}.`;
      const problem = show(await example.load(), null);
      // An example is not unsaved work until it is edited.
      const { plan } = store.getState();
      if (!problem && plan) {
        store.getState().open(plan, null, true);
        session.getState().goTo(example.steps[0].stage);
        session.getState().keep(EXAMPLE_SHOWN.name, {
          name,
          step: 0,
          open: true,
          copyId: store.getState().copyId,
        });
      }
      return problem;
    },
    async recover({ copy, plan, text, ref }) {
      if (!(await leaving())) return 'The copy is kept.';
      store.getState().open(plan, ref, false);
      session.getState().reset();
      return said(async () => {
        await host.keepForRecovery(store.getState().copyId, text, ref);
        await host.forgetRecovery(copy);
        return null;
      });
    },
    save: () =>
      inTurn(() => {
        const { fileRef } = store.getState();
        return fileRef ? saveOver(fileRef) : saveAs();
      }),
    saveAs: () => inTurn(saveAs),
    exportAll: () =>
      said(async () => {
        const { plan } = store.getState();
        if (!plan) return null;
        const archive = await zipOf(everythingOf(plan), wallClock(new Date()));
        await host.exportText(`${plan.title} – everything.zip`, 'zip', archive);
        return null;
      }),
    async close() {
      if (!(await leaving())) return;
      store.getState().close();
    },
  };
}

async function said(work: () => Promise<string | null>): Promise<string | null> {
  try {
    return await work();
  } catch (error) {
    return reasonOf(error);
  }
}

const wallClock = (at: Date) => ({
  year: at.getFullYear(),
  month: at.getMonth() + 1,
  day: at.getDate(),
  hour: at.getHours(),
  minute: at.getMinutes(),
});
