import { useState } from 'react';
import { Button, Dialog, LosingAnswer } from '../../ui';
import { PlanComparison, sayMoment } from './PlanComparison';
import type { UsableCopy } from './recoveries';

/** Offers the copies of unsaved work one by one. Closing it keeps them all. */
export function RecoveryDialog(props: {
  copies: readonly UsableCopy[];
  onUse: (copy: UsableCopy) => void;
  onThrowAway: (copy: UsableCopy) => void;
  onClose: () => void;
}) {
  const [at, setAt] = useState(0);
  const { copies, onUse, onThrowAway, onClose } = props;
  const shown = Math.min(at, copies.length - 1);
  const copy = copies[shown];
  if (!copy) return null;
  return (
    <Dialog
      title="Unsaved work was found"
      testId="recovery"
      wide
      onClose={onClose}
      actions={
        <>
          {copies.length > 1 ? (
            <Button onClick={() => setAt((shown + 1) % copies.length)}>
              Next of {copies.length}
            </Button>
          ) : null}
          <LosingAnswer again="Press again to throw it away" onGive={() => onThrowAway(copy)}>
            Throw it away
          </LosingAnswer>
          <Button onClick={onClose}>Later</Button>
          <Button tone="primary" onClick={() => onUse(copy)}>
            Go on with it
          </Button>
        </>
      }
    >
      <p>
        {copies.length > 1 ? `Copy ${shown + 1} of ${copies.length}. ` : ''}
        The program ended before {copy.ref ? `“${copy.ref.name}”` : 'a new plan'} was saved. This
        copy was kept at {sayMoment(copy.writtenAt)}; it is complete up to the last seconds.
      </p>
      <Standing copy={copy} />
    </Dialog>
  );
}

/** How the copy stands to its file. */
function Standing({ copy }: { copy: UsableCopy }) {
  const { file, plan } = copy;
  switch (file.kind) {
    case 'none':
      return (
        <p>
          Title: {plan.title}.{' '}
          {copy.ref ? 'Its file is not there, or may not be read yet, so nothing is compared.' : ''}
        </p>
      );
    case 'unreadable':
      return (
        <p>
          Title: {plan.title}. Its file, written at {sayMoment(file.changedAt)}, cannot be read as a
          plan.
        </p>
      );
    case 'plan':
      return (
        <>
          {file.later ? (
            <p role="note" data-testid="recovery-older">
              <strong>This copy is older than its file.</strong> The file was written later, at{' '}
              {sayMoment(file.changedAt)}. Compare before you go on with the copy.
            </p>
          ) : null}
          <PlanComparison
            mine={{ name: 'The copy', plan, time: sayMoment(copy.writtenAt) }}
            theirs={{ name: 'The file', plan: file.plan, time: sayMoment(file.changedAt) }}
            differences={file.differences}
          />
        </>
      );
  }
}
