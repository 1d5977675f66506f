import { useEffect, useRef } from 'react';
import { Button } from '../../ui';
import { FactorRows } from './FactorRows';
import { MeasuredTable } from './MeasuredTable';
import type { QuickPart } from './ProblemAt';
import { RackAnswers } from './RackAnswers';

/** What stands on the rack, what is asked and what is measured, in the order of the job. */
export function QuickForm(props: QuickPart & { focusAsk: boolean; onAsk: () => void }) {
  const { problems, focusAsk } = props;
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // Back from the verdict, or before the very first field.
    if (focusAsk) form.current?.querySelector<HTMLElement>('.quick-actions button')?.focus();
    else form.current?.focus();
  }, [focusAsk]);
  const ask = () => {
    const fields = form.current;
    // What is typed and could not be read is no answer yet, whatever stood there before.
    const unread = fields?.querySelector<HTMLElement>('[aria-invalid="true"]');
    const [first] = problems;
    const wrong =
      unread ??
      (first &&
        fields?.querySelector<HTMLElement>(
          `[data-problem="${first.field}"] :is(button, input), [data-fields~="${first.field}"] input`,
        ));
    if (wrong) wrong.focus();
    else if (!first) props.onAsk();
  };
  return (
    <div
      className="quick-form"
      ref={form}
      tabIndex={-1}
      role="group"
      aria-label="Answers that make a plan"
    >
      <RackAnswers {...props} />
      <FactorRows {...props} />
      <MeasuredTable {...props} />
      <div className="quick-actions">
        <Button tone="primary" data-testid="quick-ask" onClick={ask}>
          Can it answer? →
        </Button>
        {problems.length > 0 ? (
          <span className="field-problem">
            {problems.length === 1 ? 'One answer does' : `${problems.length} answers do`} not fit
            yet.
          </span>
        ) : null}
      </div>
    </div>
  );
}
