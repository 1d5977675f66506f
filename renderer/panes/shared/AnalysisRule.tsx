import type { ReactNode } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import { ruleFixedWords, whyRuleIncomplete, ruleWords } from '../../derive';
import { fixRule, releaseRule } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, Fold, ReasonForm, today } from '../../ui';

/** Folded away: the rule of the analysis, with the fields that choose it while it is not fixed. */
export function RuleFold(props: {
  plan: Plan;
  trial: Trial;
  title: ReactNode;
  testId: string;
  children: ReactNode;
}) {
  const { plan, trial, title, testId, children } = props;
  const fixed = trial.analysisLocked;
  return (
    <Fold
      title={title}
      said={`– ${fixed ? ruleFixedWords(fixed) : 'not locked yet'}`}
      testId={testId}
    >
      {fixed ? null : children}
      <AnalysisRule plan={plan} trial={trial} />
    </Fold>
  );
}

/** Fixes the rule of an analysis with one click; a fixed one is released with a reason. */
export function AnalysisRule({ plan, trial }: { plan: Plan; trial: Trial }) {
  const dispatch = useDispatch();
  const says = ruleWords(plan, trial);
  if (trial.analysisLocked) {
    return (
      <>
        <p>{says}</p>
        <ReasonForm
          label="Reason for unlocking the analysis, kept among the incidents"
          action="Unlock the analysis"
          testId="release-rule"
          onGive={(reason) => dispatch(releaseRule, { date: today(), reason })}
        />
      </>
    );
  }
  const incomplete = whyRuleIncomplete(trial);
  return (
    <>
      <p className="field-remark">{incomplete ?? `To be locked: ${says}`}</p>
      <div className="section-actions">
        <Button
          data-testid="fix-rule"
          disabled={incomplete !== null}
          onClick={() => dispatch(fixRule, { date: today() })}
        >
          Lock the analysis, today
        </Button>
      </div>
    </>
  );
}
