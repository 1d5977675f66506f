import { useMemo, useState } from 'react';
import { comparePlans } from '../../document/compare';
import { readPlan } from '../../document/open';
import type { FileNow } from '../../host/host';
import type { Plan } from '../../../shared-types/plan';
import { Button, Dialog, LosingAnswer } from '../../ui';
import { PlanComparison, sayMoment } from './PlanComparison';

export interface Conflict {
  readonly mine: Plan;
  readonly theirs: FileNow;
}

/** What the person wants where the file has changed meanwhile. */
export type Settlement = 'both' | 'theirs' | 'overwrite' | 'neither';

/** Asks what to do where somebody else has changed the file; what loses a state asks again. */
export function useConflictQuestion() {
  const [asked, setAsked] = useState<{
    conflict: Conflict;
    answer: (settlement: Settlement) => void;
  } | null>(null);
  const ask = useMemo(
    () => (conflict: Conflict) =>
      new Promise<Settlement>((done) => {
        const answer = (settlement: Settlement) => {
          setAsked(null);
          done(settlement);
        };
        setAsked({ conflict, answer });
      }),
    [],
  );
  const dialog = asked ? <ConflictDialog {...asked.conflict} onAnswer={asked.answer} /> : null;
  return { ask, dialog };
}

function ConflictDialog(props: Conflict & { onAnswer: (settlement: Settlement) => void }) {
  const { mine, theirs, onAnswer } = props;
  const other = useMemo(() => {
    const read = theirs.text === null ? null : readPlan(theirs.text);
    return read?.ok ? read.plan : null;
  }, [theirs]);
  const differences = useMemo(() => (other ? comparePlans(mine, other) : []), [mine, other]);
  return (
    <Dialog
      title={`“${theirs.ref.name}” has changed meanwhile`}
      testId="conflict"
      wide
      onClose={() => onAnswer('neither')}
      actions={
        <>
          {other ? (
            <LosingAnswer again="Press again to lose my changes" onGive={() => onAnswer('theirs')}>
              Take theirs
            </LosingAnswer>
          ) : null}
          <LosingAnswer
            again="Press again to lose the file’s state"
            onGive={() => onAnswer('overwrite')}
          >
            Overwrite the file
          </LosingAnswer>
          <Button onClick={() => onAnswer('neither')}>Not now</Button>
          <Button tone="primary" onClick={() => onAnswer('both')}>
            Keep both: save mine as…
          </Button>
        </>
      }
    >
      <p>
        Another window, program or sync folder wrote this file at {sayMoment(theirs.changedAt)},
        after you opened or saved it here. Nothing has been saved yet.
      </p>
      {other ? (
        <PlanComparison
          mine={{ name: 'Mine, in this window', plan: mine, time: 'now, not saved' }}
          theirs={{ name: 'In the file', plan: other, time: sayMoment(theirs.changedAt) }}
          differences={differences}
        />
      ) : (
        <p>What stands in the file now cannot be read as a plan.</p>
      )}
    </Dialog>
  );
}
