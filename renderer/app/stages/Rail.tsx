import type { Notice } from '../../../shared-types/notice';
import { stageStateLabels, type StageStateName } from '../../../shared-types/window/stageState';
import { stageStates } from '../../derive';
import { usePlanStore, useSession } from '../../store/context';
import { SeverityMark } from '../../ui';
import { stageOrder } from './stageOrder';

/** The stages of the job, each with its state and one line that says why; null: not judged yet. */
export function Rail({ notices }: { notices: readonly Notice[] | null }) {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const stage = useSession((s) => s.stage);
  const goTo = useSession((s) => s.goTo);
  if (!plan) return null;
  const states = notices && stageStates(plan, notices);
  return (
    <nav className="rail" aria-label="Stages of the trial">
      {stageOrder.map(({ stage: id, label }, index) => {
        const { state, why } = states?.[id] ?? { state: 'todo', why: null };
        const said = why === null ? 'not looked at yet' : `${stageStateLabels[state]}: ${why}`;
        return (
          <button
            key={id}
            type="button"
            className="rail-stage"
            data-testid={`stage-${id}`}
            data-state={state}
            aria-current={stage === id ? 'step' : undefined}
            title={`${label}, ${said} (Alt+${index + 1})`}
            onClick={() => goTo(id)}
          >
            <span aria-hidden="true">
              <StateMark state={state} />
            </span>
            <span>
              {label}
              <span className="rail-state">{said}</span>
            </span>
          </button>
        );
      })}
    </nav>
  );
}

/** The shape tells the state, and the colour repeats it. */
function StateMark({ state }: { state: StageStateName }) {
  switch (state) {
    case 'stuck':
      return <SeverityMark severity="stop" size={18} />;
    case 'look':
      return <SeverityMark severity="warn" size={18} />;
    case 'todo':
    case 'fine':
      return (
        <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
          <circle cx="9" cy="9" r="6" className={`rail-dot rail-dot-${state}`} />
          {state === 'fine' ? (
            <path
              d="M5.8,9.2 L8.2,11.6 L12.4,6.8"
              stroke="var(--surface)"
              strokeWidth="2"
              fill="none"
            />
          ) : null}
        </svg>
      );
  }
}
