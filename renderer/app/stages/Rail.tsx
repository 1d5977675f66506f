import type { Notice } from '../../../shared-types/notice';
import { stageStates } from '../../derive';
import { usePlanStore, useSession } from '../../store/context';
import { SeverityMark } from '../../ui';
import { stageOrder } from './stageOrder';

const words = {
  empty: 'not begun',
  progress: 'in progress',
  complete: 'complete',
} as const;

/** The stages of the job, each with its state and its worst notice. */
export function Rail({ notices }: { notices: readonly Notice[] }) {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const stage = useSession((s) => s.stage);
  const goTo = useSession((s) => s.goTo);
  if (!plan) return null;
  const states = stageStates(plan, notices);
  return (
    <nav className="rail" aria-label="Stages of the trial">
      {stageOrder.map(({ stage: id, label }, index) => {
        const { state, worst } = states[id];
        return (
          <button
            key={id}
            type="button"
            className="rail-stage"
            data-testid={`stage-${id}`}
            aria-current={stage === id ? 'step' : undefined}
            title={`${label}: Alt+${index + 1}`}
            onClick={() => goTo(id)}
          >
            <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
              <circle
                cx="9"
                cy="9"
                r="6"
                className={`rail-dot rail-dot-${state}`}
                strokeDasharray={state === 'progress' ? '19 19' : undefined}
              />
              {state === 'complete' ? (
                <path
                  d="M5.8,9.2 L8.2,11.6 L12.4,6.8"
                  stroke="var(--surface)"
                  strokeWidth="2"
                  fill="none"
                />
              ) : null}
            </svg>
            <span>
              {label}
              <span className="rail-state">{words[state]}</span>
            </span>
            {worst ? <SeverityMark severity={worst} size={14} /> : null}
          </button>
        );
      })}
    </nav>
  );
}
