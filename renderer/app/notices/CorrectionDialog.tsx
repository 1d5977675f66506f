import { useState } from 'react';
import { correctPlanted } from '../../document/commands';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, DateField, Dialog, ReasonForm, today } from '../../ui';

/** An edit that waits: what planted plants grow under is changed with a date and a reason. */
export function CorrectionDialog(props: { onClose: () => void }) {
  const dispatch = useDispatch();
  const waiting = usePlanStore((s) => s.toCorrect);
  const plan = usePlanStore((s) => s.plan);
  const [date, setDate] = useState(today());
  if (!waiting || !plan) return null;
  const { edit } = waiting;
  return (
    <Dialog
      title="Correct the planted rack"
      testId="correction"
      onClose={props.onClose}
      actions={
        <Button tone="quiet" onClick={props.onClose}>
          Leave it as it was
        </Button>
      }
    >
      <p>
        {edit.label(null, plan)}. The log and the report tell of the change, its day and its reason.
      </p>
      <DateField
        label="Changed at the rack on"
        value={date}
        testId="correction-date"
        onCommit={(next) => setDate(next ?? today())}
      />
      <ReasonForm
        label="Reason"
        action="Correct"
        testId="correct"
        onGive={(reason) => {
          dispatch(correctPlanted, { edit, date, reason });
          props.onClose();
        }}
      />
    </Dialog>
  );
}
