import { Button } from './Button';
import { ReasonForm } from './ReasonForm';

/** Fixes the rule of an analysis with one click; a fixed one is released with a reason. */
export function RuleForm(props: {
  /** What the rule is, in words. */
  says: string;
  isFixed: boolean;
  /** What must be said before it can be fixed; null where nothing is wanting. */
  wanting: string | null;
  onFix: () => void;
  onRelease: (reason: string) => void;
}) {
  const { says, isFixed, wanting } = props;
  if (isFixed) {
    return (
      <>
        <p>{says}</p>
        <ReasonForm
          label="Reason for releasing the rule, kept among the incidents"
          action="Release the rule"
          testId="release-rule"
          onGive={props.onRelease}
        />
      </>
    );
  }
  return (
    <>
      <p className="field-remark">{wanting ?? `To be fixed: ${says}`}</p>
      <div className="section-actions">
        <Button data-testid="fix-rule" disabled={wanting !== null} onClick={props.onFix}>
          Fix the rule, today
        </Button>
      </div>
    </>
  );
}
