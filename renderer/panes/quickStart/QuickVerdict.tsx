import { useEffect, useRef, useState, type ReactNode } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { drawRuns, schemeMisfitsOf } from '../../derive';
import { keepLayout } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import { Button, Problem } from '../../ui';
import { newSeed } from '../shared/newSeed';

/** Whether the trial can answer, and on to the layout or back to the answers. */
export function QuickVerdict(props: { plan: Plan; onBack: () => void; children: ReactNode }) {
  const { plan } = props;
  const dispatch = useDispatch();
  const goTo = useSession((s) => s.goTo);
  const [problem, setProblem] = useState<string | null>(null);
  const top = useRef<HTMLDivElement>(null);
  useEffect(() => {
    top.current?.focus({ preventScroll: true });
    top.current?.closest('main')?.scrollTo(0, 0);
  }, []);
  const compares = (plan.trial?.factors.length ?? 0) > 0;
  const draw = () => {
    const drawn = drawRuns(plan, newSeed(), new Date().toISOString());
    setProblem(drawn.ok ? null : drawn.reason);
    if (drawn.ok && dispatch(keepLayout, drawn.value).ok) goTo('layout');
  };
  const drawable = compares && schemeMisfitsOf(plan).length === 0;
  return (
    <div className="quick-form">
      <div ref={top} tabIndex={-1} className="quick-verdict" data-testid="quick-verdict">
        {compares ? (
          props.children
        ) : (
          <p>
            Nothing is compared: all plants are treated alike, and the findings show what place
            alone does. Change the answers to compare something.
          </p>
        )}
      </div>
      <Problem text={problem} />
      <div className="quick-actions">
        {drawable ? (
          <Button tone="primary" data-testid="quick-draw" onClick={draw}>
            Draw the layout →
          </Button>
        ) : (
          <Button tone="primary" onClick={() => goTo('rack')}>
            On to the rack →
          </Button>
        )}
        <Button data-testid="quick-back" onClick={props.onBack}>
          ← Change the answers
        </Button>
      </div>
    </div>
  );
}
