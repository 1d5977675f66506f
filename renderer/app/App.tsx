import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { StartJob } from '../derive';
import type { Host } from '../host/host';
import { StoreProvider, usePlanStore, useSession, type Stores } from '../store/context';
import { FindingsProvider } from '../store/findingsContext';
import type { FindingsStore } from '../store/findingsStore';
import { JobsContext, useStartJob } from '../store/jobsContext';
import { keepRecovery } from '../store/recovery';
import { Button, Dialog, isDialogOpen, LosingAnswer, TermTip } from '../ui';
import { AboutDialog } from './about/AboutDialog';
import { examples } from './examples';
import { useConflictQuestion } from './files/ConflictDialog';
import { fileActions, type FileActions } from './files/files';
import { keepFocus } from './focus/keepFocus';
import { Guard } from './Guard';
import { LateErrors } from './LateErrors';
import { openDropped } from './files/dropped';
import { tellOpenElsewhere } from './files/openElsewhere';
import { HelpPanel } from './help/HelpPanel';
import { isHelpEntry, openHelp } from './help/openHelp';
import { isTyping, shortcut } from './shortcuts';
import { StartScreen } from './start/StartScreen';
import { keepRecentPictures } from './start/recentPictures';
import { findNext } from './files/findNext';
import { useTextSize, useTheme } from './theme';
import { useRecovery } from './files/useRecovery';
import { QuickFrame } from './QuickFrame';
import { Workspace } from './Workspace';
import { reasonOf, type GlossaryTerm } from '../words';

export function App(props: {
  host: Host;
  stores: Stores;
  findings: FindingsStore;
  startJob: StartJob;
}) {
  return (
    <StoreProvider stores={props.stores}>
      <FindingsProvider store={props.findings}>
        <JobsContext value={props.startJob}>
          <Guard part="The window">
            <Shell host={props.host} stores={props.stores} />
          </Guard>
        </JobsContext>
      </FindingsProvider>
    </StoreProvider>
  );
}

function Shell({ host, stores }: { host: Host; stores: Stores }) {
  const open = usePlanStore((s) => s.plan !== null);
  const quick = useSession((s) => s.quickStart);
  const theme = useSession((s) => s.theme);
  const [problem, setProblem] = useState<string | null>(null);
  const startJob = useStartJob();
  const leaving = useQuestion();
  const conflict = useConflictQuestion();
  const files = useMemo(
    () => fileActions(host, stores, leaving.ask, conflict.ask, (plan) => findNext(plan, startJob)),
    [host, stores, leaving.ask, conflict.ask, startJob],
  );
  const recovery = useRecovery(host, files, setProblem);
  useTheme(theme);
  useEffect(() => keepFocus(), []);
  useEffect(() => keepRecentPictures(stores), [stores]);
  useTextSize(useSession((s) => s.textSize));
  const showHelp = useSession((s) => s.showHelp);
  const askGlossary = useCallback(
    (about: readonly GlossaryTerm[]) => {
      // A question that waits keeps the keyboard.
      if (!isDialogOpen()) showHelp('help-glossary', about);
    },
    [showHelp],
  );
  useHost(host, stores, files, setProblem, recovery.look);

  return (
    <>
      <Guard part={open ? 'The plan' : 'The start screen'} files={files}>
        <LateErrors say={setProblem} />
        {open && quick ? (
          <QuickFrame host={host} files={files} problem={problem} />
        ) : open ? (
          <Workspace host={host} files={files} problem={problem} say={setProblem} />
        ) : (
          <StartScreen
            host={host}
            examples={examples}
            problem={problem}
            copies={recovery.waiting}
            actions={{
              showCopies: recovery.show,
              quickStart: () => void files.quickStart().then(setProblem),
              newPlan: () => void files.newPlan().then(setProblem),
              openFile: () => void files.open().then(setProblem),
              startFrom: (recent) => void files.nextTrial(recent.ref).then(setProblem),
              openRecent: (recent) => void files.openRecent(recent.ref).then(setProblem),
              openExample: (name) => void files.openExample(name).then(setProblem),
            }}
          />
        )}
      </Guard>
      <AboutDialog host={host} />
      <HelpPanel />
      <TermTip onAsk={askGlossary} />
      {recovery.dialog}
      {conflict.dialog}
      {leaving.dialog}
    </>
  );
}

/** Wires the host's wishes, the keyboard, recovery and the address's example to the stores. */
function useHost(
  host: Host,
  stores: Stores,
  files: FileActions,
  say: (problem: string | null) => void,
  lookForCopies: () => Promise<boolean>,
) {
  useEffect(() => {
    const act = (action: string) => {
      // A menu that hears the key before the field does leaves the field its own undoing.
      if ((action === 'undo' || action === 'redo') && isTyping(document.activeElement)) {
        document.execCommand(action);
        return;
      }
      if (isDialogOpen()) return;
      const plan = stores.plan.getState();
      const actions: Record<string, () => unknown> = {
        new: () => files.newPlan().then(say),
        open: () => files.open().then(say),
        save: () => files.save().then(say),
        'save-as': () => files.saveAs().then(say),
        'export-all': () => files.exportAll().then(say),
        undo: plan.undo,
        redo: plan.redo,
        runs: () => stores.session.getState().listRuns(plan.plan !== null),
      };
      if (isHelpEntry(action)) openHelp(action, stores.session.getState());
      else actions[action]?.();
    };
    const stopMenu = host.onMenu(act);
    const stopOpen = host.onOpenRequest((opened) => void files.openText(opened).then(say), say);
    const stopKeeping = keepRecovery(stores.plan, host, (reason) =>
      say(`A recovery copy could not be kept: ${reasonOf(reason)}`),
    );
    const stopTelling = tellOpenElsewhere(stores.plan, host, say);
    const stopDrops = openDropped(window, files, () => !isDialogOpen(), say);
    const onKey = (event: KeyboardEvent) => {
      if (isDialogOpen()) return;
      const act = shortcut(event, stores, files);
      if (!act || (isTyping(event.target) && event.key.toLowerCase() === 'z')) return;
      event.preventDefault();
      const done = act();
      if (done instanceof Promise) void done.then(say);
    };
    window.addEventListener('keydown', onKey);
    return () => {
      stopMenu();
      stopOpen();
      stopKeeping();
      stopTelling();
      stopDrops();
      window.removeEventListener('keydown', onKey);
    };
  }, [host, stores, files, say]);

  const begun = useRef(false);
  useEffect(() => {
    if (begun.current) return;
    begun.current = true;
    const example = /^#example=([a-z-]+)$/.exec(window.location.hash)?.[1];
    lookForCopies().then(
      (found) => {
        if (!found && example) void files.openExample(example).then(say);
      },
      (error: unknown) => say(`Copies of unsaved work cannot be looked for: ${reasonOf(error)}`),
    );
  }, [files, say, lookForCopies]);
}

/** Asks before unsaved work would go; the answer comes by promise. */
function useQuestion() {
  const [resolve, setResolve] = useState<((leave: boolean) => void) | null>(null);
  const ask = useMemo(
    () => () =>
      new Promise<boolean>((done) => {
        // Asked again before it was answered: the first question ends with nothing lost.
        setResolve((before: ((leave: boolean) => void) | null) => {
          before?.(false);
          return done;
        });
      }),
    [],
  );
  const answer = (leave: boolean) => {
    resolve?.(leave);
    setResolve(null);
  };
  const dialog = resolve ? (
    <Dialog
      title="Leave without saving?"
      onClose={() => answer(false)}
      actions={
        <>
          <LosingAnswer again="Press again to lose the changes" onGive={() => answer(true)}>
            Leave, lose the changes
          </LosingAnswer>
          <Button tone="primary" onClick={() => answer(false)}>
            Stay
          </Button>
        </>
      }
    >
      <p>This plan has unsaved changes.</p>
    </Dialog>
  ) : null;
  return { ask, dialog };
}
