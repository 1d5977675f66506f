import type { QuickAnswers } from '../../../shared-types/window/quickStart';
import type { QuickField, QuickProblem } from '../../document/quickStart';
import { Button } from '../../ui';
import type { UnitSystem } from '../../words';

export interface QuickPart {
  answers: QuickAnswers;
  problems: readonly QuickProblem[];
  lengths: UnitSystem;
  onChange: (patch: Partial<QuickAnswers>) => void;
}

/** What does not fit, where it is put right, with the answers that would. */
export function ProblemAt(props: QuickPart & { field: QuickField }) {
  const found = props.problems.filter(({ field }) => field === props.field);
  return found.map(({ text, ways }) => (
    <div key={text} className="quick-problem" data-problem={props.field} role="alert">
      <p className="field-problem">{text}</p>
      <div className="section-actions">
        {ways.map(({ says, answers }) => (
          <Button key={says} onClick={() => props.onChange(answers)}>
            {says}
          </Button>
        ))}
      </div>
    </div>
  ));
}
