import { useDeferredValue, useMemo } from 'react';
import type { Notice, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { RackCanvas, type RackLook } from '../canvas';
import { noticesOf, noticesToTell } from '../derive';
import { anyBlindedSince, blindedSince } from '../document/queries';
import { blindNotices, blindPlan } from '../derive/records/secondEntry';
import type { Host } from '../host/host';
import { useBlinded } from '../panes/chart';
import { RACK_SHOWN } from '../panes/findings';
import { useLightShown } from '../panes/light';
import { useKept, usePlanStore, useSession } from '../store/context';
import { useAsShown } from '../store';
import { useCurrentOutcome } from '../store/findingsContext';
import { EmptyState, Scroller } from '../ui';
import { HostContext } from '../store/hostContext';
import type { FileActions } from './files/files';
import { BlindBanner } from './BlindBanner';
import { Guard } from './Guard';
import { Caption } from './help/Caption';
import { Rail } from './stages/Rail';
import { labelOf } from './stages/stageOrder';
import { stageViews, type StageView } from './stages/stageViews';
import { ExampleSteps } from './start/ExampleSteps';
import { Strip } from './notices/Strip';
import { TopBar } from './topBar/TopBar';
import { useWorkedOut } from './jobs/useWorkedOut';

export function Workspace(props: {
  host: Host;
  files: FileActions;
  problem: string | null;
  say: (problem: string | null) => void;
}) {
  const { files } = props;
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const { decimal, days, weekStart } = useSession((s) => s.localeChoice);
  if (!plan) return null;
  return (
    <HostContext value={props.host}>
      <div className={`app${blindedSince(plan) === null ? '' : ' is-blinded'}`}>
        <TopBar files={files} say={props.say} />
        <BlindBanner />
        {/* Where numbers and days are to be written another way, everything is said anew. */}
        <Standing {...props} key={`${decimal} ${days} ${weekStart}`} plan={plan} />
      </div>
    </HostContext>
  );
}

/** The stages, the rack, what stands beside it and under it. */
function Standing(props: {
  plan: Plan;
  files: FileActions;
  problem: string | null;
  say: (problem: string | null) => void;
}) {
  const { files, plan } = props;
  const stage = useSession((s) => s.stage);
  const { of: judgement, done, none } = useJudgement(plan);
  const notices = judgement.ok ? judgement.value : NONE;
  // Before the light of many shelves is known, the stage that shows it would hold up the window.
  const waits = none && stage === 'light';
  const look = useLook(plan, notices, waits ? 'rack' : stage);
  if (!look) return null;
  const { Side, width } = stageViews[stage];
  return (
    <>
      <Guard part="The list of stages" files={files}>
        <Rail notices={none ? null : notices} />
      </Guard>
      <RackArea {...{ plan, look, notices, files, done, waits }} />
      {/* A stage opens at its top, wherever the last one was left; so does another run. */}
      <aside
        key={`${stage} ${plan.runId}`}
        className={`side side-${width}`}
        data-inspector
        aria-label="Details"
      >
        <h2 className="visually-hidden">{labelOf(stage)}: details</h2>
        <Caption stage={stage} />
        <Guard part="This stage" files={files}>
          {waits ? (
            <EmptyState title="The light is being worked out">
              Its figures and its picture are shown once all shelves are done.
            </EmptyState>
          ) : (
            <Side />
          )}
        </Guard>
      </aside>
      <Guard part="The list of notices" files={files}>
        <Strip
          notices={none ? null : notices}
          problem={props.problem}
          unjudged={judgement.ok ? null : notJudged(judgement.error)}
          onRead={() => props.say(null)}
        />
      </Guard>
    </>
  );
}

/** The notices that the person may see of the plan, as they lag behind the hand. */
function useJudgement(plan: Plan | null): Judgement {
  const stage = useSession((s) => s.stage);
  const outcome = useCurrentOutcome();
  // While a lamp is dragged its light has to keep up: notices wait for the end of the drag.
  const settled = usePlanStore((s) => s.plan);
  const standing = stage === 'light' ? settled : plan;
  const worked = useWorkedOut(standing);
  // Of thousands of pots, notices take longer than the hand that types or moves: what it did is
  // shown first, and what is left behind by the next key is not judged at all.
  const copyId = usePlanStore((s) => s.copyId);
  const now = useMemo(() => ({ plan: worked.plan, copyId }), [worked.plan, copyId]);
  const afterwards = useDeferredValue(now);
  // Another file is judged at once: what was said of the last one is not said of it.
  const judged = afterwards.copyId === copyId ? afterwards.plan : worked.plan;
  // The second person sees nothing of what the first one has entered.
  const blind = useSession((s) => s.entryBy === 'second');
  const judgement = useMemo(
    () =>
      attempt(() => {
        const all = judged ? noticesOf(judged, outcome) : [];
        // Nobody sees what would tell the treatments of a blinded trial.
        const told = judged ? noticesToTell(judged, all) : all;
        return blind ? blindNotices(told) : told;
      }),
    [judged, outcome, blind],
  );
  return { of: judgement, done: worked.done, none: worked.plan === null };
}

interface Judgement {
  of: Attempt<readonly Notice[]>;
  /** How many shelves are worked out, while it is of the plan before. */
  done: number | null;
  /** Nothing has been judged yet. */
  none: boolean;
}

/** How this stage paints the rack; null: no plan is open. */
function useLook(
  plan: Plan | null,
  notices: readonly Notice[],
  stage: Stage,
): Attempt<RackLook> | null {
  // As treated, where this stage shows the rack so.
  const asShown = useAsShown(plan);
  const outcome = useCurrentOutcome();
  const view = stageViews[stage];
  const blind = useSession((s) => s.entryBy === 'second');
  const light = useLightShown(stage === 'light');
  const blinded = useBlinded();
  const [rackShown] = useKept(RACK_SHOWN);
  return useMemo(
    () =>
      asShown
        ? attempt(() =>
            view.look(
              blind ? blindPlan(asShown) : asShown,
              ...([notices, outcome, light, blinded, rackShown] as const),
            ),
          )
        : null,
    [asShown, blind, notices, outcome, view, light, blinded, rackShown],
  );
}

/** The rack between its tools and its legend. */
function RackArea(props: {
  plan: Plan;
  look: Attempt<RackLook>;
  notices: readonly Notice[];
  files: FileActions;
  done: number | null;
  waits: boolean;
}) {
  const { plan, look, notices, files, done, waits } = props;
  const { Toolbar, Legend, onPlace, ...view } = stageViews[useSession((s) => s.stage)];
  const Beside = anyBlindedSince(plan) === null ? view.Beside : undefined;
  return (
    <main className="rack-area">
      <h2 className="visually-hidden">The rack</h2>
      <div className="stage-toolbar">
        <Guard part="The tools" files={files}>
          <Toolbar />
        </Guard>
      </div>
      <div className="rack-canvas-frame">
        <Guard part="The rack" files={files}>
          <Rack look={look} notices={notices} onPlace={onPlace} />
        </Guard>
        {done === null ? null : (
          <p className="rack-working" role="status">
            Working out the light: {done} of {plan.rack.shelves.length} shelves. Stages and notices
            follow.
          </p>
        )}
        {Beside ? (
          <Guard part="The rack beside it" files={files}>
            <Beside notices={notices} />
          </Guard>
        ) : null}
      </div>
      <ExampleSteps />
      {Legend && !waits ? (
        <Scroller className="rack-legend" label="Legend">
          <Guard part="The legend" files={files}>
            <Legend />
          </Guard>
        </Scroller>
      ) : null}
    </main>
  );
}

/** Throws what went wrong with the look inside of the rack's own part of the window. */
function Rack(props: {
  look: Attempt<RackLook>;
  notices: readonly Notice[];
  onPlace: StageView['onPlace'];
}) {
  const stage = useSession((s) => s.stage);
  // As the rings are: of this stage alone.
  const notices = useMemo(
    () => props.notices.filter((notice) => notice.stage === stage),
    [props.notices, stage],
  );
  if (!props.look.ok) throw props.look.error;
  return <RackCanvas look={props.look.value} notices={notices} onPlace={props.onPlace} />;
}

const NONE: readonly Notice[] = [];

const notJudged = (error: Error) =>
  `The plan could not be checked, so no notices are listed: ${error.message}`;

type Attempt<T> = { ok: true; value: T } | { ok: false; error: Error };

function attempt<T>(work: () => T): Attempt<T> {
  try {
    return { ok: true, value: work() };
  } catch (error) {
    return { ok: false, error: error instanceof Error ? error : new Error(String(error)) };
  }
}
