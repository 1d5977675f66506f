import { useDeferredValue, useEffect, useRef, useState, type ComponentType } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { QuickAnswers } from '../../../shared-types/window/quickStart';
import { BARE_LOOK, RackCanvas, type RackLook } from '../../canvas';
import { quickStart } from '../../document/commands';
import { drawablePart, firstAnswersIn, problemsOf } from '../../document/quickStart';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Segmented } from '../../ui';
import { QuickForm } from './QuickForm';
import { QuickVerdict } from './QuickVerdict';
import './quickStart.css';

const LOOK: RackLook = { ...BARE_LOOK, editable: false };

/**
 * From nothing to a drawn layout on one page: the answers beside the rack that they make, then whether
 * the trial can answer. `Verdict`: what the trial stage says of that.
 */
export function QuickStart({ Verdict }: { Verdict: ComponentType<{ plan: Plan; alone: true }> }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  const [answers, setAnswers] = useState(() => firstAnswersIn(plan?.display.lengths ?? 'metric'));
  /** The answers that the plan was made of; null while they are typed. */
  const [asked, setAsked] = useState<QuickAnswers | null>(null);
  const [shown, setShown] = useState<'answers' | 'verdict'>('answers');
  // An undo of the whole start leads back to the answers.
  const judged = shown === 'verdict' && plan !== null && plan.trial !== null;
  usePreview(answers, judged);
  if (!plan) return null;
  const problems = problemsOf(answers, plan.display.lengths);
  const ask = () => {
    const stands = asked === answers && plan.trial !== null;
    if (!stands && !dispatch(quickStart, answers).ok) return;
    setAsked(answers);
    setShown('verdict');
  };
  return (
    <>
      <main className="quick-page">
        {judged ? (
          <QuickVerdict plan={plan} onBack={() => setShown('answers')}>
            <Verdict plan={plan} alone />
          </QuickVerdict>
        ) : (
          <QuickForm
            answers={answers}
            problems={problems}
            lengths={plan.display.lengths}
            focusAsk={asked !== null}
            onChange={(patch) => setAnswers((before) => ({ ...before, ...patch }))}
            onAsk={ask}
          />
        )}
      </main>
      <aside className="quick-rack" aria-label="The rack">
        <QuickView />
        <RackCanvas look={LOOK} />
      </aside>
    </>
  );
}

/** Shows the rack that the answers would make, as far as they can be drawn. */
function usePreview(answers: QuickAnswers, judged: boolean): void {
  const plan = usePlanStore((s) => s.plan);
  const preview = usePlanStore((s) => s.previewCommand);
  const cancel = usePlanStore((s) => s.cancelPreview);
  const settled = useDeferredValue(answers);
  const previewed = useRef(false);
  useEffect(() => {
    if (judged) return;
    const drawn = drawablePart(settled);
    if (!drawn) return;
    previewed.current = true;
    preview(quickStart, drawn);
  }, [settled, judged, plan, preview]);
  useEffect(() => () => (previewed.current ? cancel() : undefined), [cancel]);
}

function QuickView() {
  const view = useSession((s) => s.view);
  const setView = useSession((s) => s.setView);
  return (
    <div className="quick-view">
      <Segmented
        label="The rack"
        value={view === 'front' ? 'front' : 'all'}
        options={[
          { value: 'front', label: 'from the front' },
          { value: 'all', label: 'from above' },
        ]}
        onChoose={setView}
      />
    </div>
  );
}
