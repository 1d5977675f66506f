import type { Plan } from '../../../shared-types/plan';
import { emptyPlan } from '../../document/new';
import { readPlan, sayProblem } from '../../document/open';
import type { FileRef, Host, OpenedText } from '../../host/host';
import type { Stores } from '../../store/context';
import { isUnsaved } from '../../store/planStore';
import { examples } from '../examples';
import { EXAMPLE_SHOWN } from '../exampleShown';
import type { UsableCopy } from './recoveries';
import { orReason, showText } from './showText';

/** What puts another plan, or none, in the place of the open one. */
export interface OpenActions {
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
  close(): Promise<void>;
}

/** `mayLeave` asks before unsaved work would go, `next` what the trial after a plan takes over. */
export function openActions(
  host: Host,
  stores: Stores,
  mayLeave: () => Promise<boolean>,
  next: (plan: Plan) => Promise<Plan>,
): OpenActions {
  const { plan: store, session } = stores;
  const newPlan = () => {
    const { usualHere, localeChoice } = session.getState();
    return emptyPlan('Untitled trial', localeChoice.units ?? usualHere.units);
  };
  const leaving = async () => !isUnsaved(store.getState()) || (await mayLeave());

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
      return orReason(async () => {
        const opened = await host.open('plan');
        return opened ? showText(stores, opened.text, opened.ref) : null;
      });
    },
    async openText({ text, ref }) {
      const { fileRef } = store.getState();
      if (fileRef?.key === ref.key && fileRef.seen === ref.seen) {
        return `${ref.name}: is open in this window already.`;
      }
      return (await leaving()) ? showText(stores, text, ref) : null;
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
      return orReason(async () => {
        const opened = await host.openRecent(ref);
        return showText(stores, opened.text, opened.ref);
      });
    },
    async nextTrial(recent) {
      if (!(await leaving())) return null;
      return orReason(async () => {
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
      const problem = showText(stores, await example.load(), null);
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
      return orReason(async () => {
        await host.keepForRecovery(store.getState().copyId, text, ref);
        await host.forgetRecovery(copy);
        return null;
      });
    },
    async close() {
      if (!(await leaving())) return;
      store.getState().close();
    },
  };
}
