import { useDeferredValue, useMemo } from 'react';
import { RackCanvas } from '../canvas';
import { noticesOf } from '../derive';
import { blindNotices, blindPlan } from '../derive/secondEntry';
import type { Host } from '../host/host';
import { useLightShown } from '../panes/light';
import { usePlanStore, useSession } from '../store/context';
import { useCurrentOutcome } from '../store/findingsContext';
import { HostContext } from '../store/hostContext';
import type { FileActions } from './files';
import { Rail } from './Rail';
import { stageViews } from './stages';
import { Strip } from './Strip';
import { TopBar } from './TopBar';

export function Workspace(props: {
  host: Host;
  files: FileActions;
  problem: string | null;
  say: (problem: string | null) => void;
}) {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const stage = useSession((s) => s.stage);
  const outcome = useCurrentOutcome();
  const view = stageViews[stage];
  // While a lamp is dragged its light has to keep up: notices wait for the end of the drag.
  const settled = usePlanStore((s) => s.plan);
  const asShown = stage === 'light' ? settled : plan;
  // Of thousands of pots, notices take longer than the hand that types: the next cell comes first.
  const afterwards = useDeferredValue(asShown);
  const judged = stage === 'records' ? afterwards : asShown;
  // The second person sees nothing of what the first one has entered.
  const blind = useSession((s) => s.entryBy === 'second');
  const notices = useMemo(() => {
    const all = judged ? noticesOf(judged, outcome) : [];
    return blind ? blindNotices(all) : all;
  }, [judged, outcome, blind]);
  const light = useLightShown(stage === 'light');
  const look = useMemo(
    () => (plan ? view.look(blind ? blindPlan(plan) : plan, notices, outcome, light) : null),
    [plan, blind, notices, outcome, view, light],
  );
  if (!plan || !look) return null;
  const { Toolbar, Side, Legend } = view;
  return (
    <HostContext value={props.host}>
      <div className="app">
        <TopBar files={props.files} say={props.say} />
        <Rail notices={notices} />
        <main className="rack-area">
          <div className="stage-toolbar">
            <Toolbar />
          </div>
          <div className="rack-canvas-frame">
            <RackCanvas look={look} notices={notices} onPlace={view.onPlace} />
          </div>
          {Legend ? (
            <div className="rack-legend">
              <Legend />
            </div>
          ) : null}
        </main>
        {/* A stage opens at its top, wherever the last one was left. */}
        <aside
          key={stage}
          className={`side side-${view.width}`}
          data-inspector
          aria-label="Details"
        >
          <Side />
        </aside>
        <Strip notices={notices} problem={props.problem} onRead={() => props.say(null)} />
      </div>
    </HostContext>
  );
}
