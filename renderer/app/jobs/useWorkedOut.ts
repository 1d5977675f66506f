import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { lightToDo, type RunningJob, type StartJob } from '../../derive';
import { usePlanStore } from '../../store/context';
import { useStartJob } from '../../store/jobsContext';

/** Up to so many shelves are worked out at once, of a room fewer: nobody waits for them. */
const AT_ONCE = 24;
const AT_ONCE_IN_ROOM = 4;

export interface WorkedOut {
  /** The last plan whose light is known, or a small one; null: none is yet. */
  plan: Plan | null;
  /** How many shelves of the plan in hand are done, while some are not. */
  done: number | null;
}

/**
 * The light of many shelves is worked out by workers, while the window stays in hand: until then
 * what rests on it is judged by the plan before.
 */
export function useWorkedOut(plan: Plan | null): WorkedOut {
  const startJob = useStartJob();
  // Of another file nothing is known.
  const copyId = usePlanStore((s) => s.copyId);
  const [known, setKnown] = useState<{ plan: Plan; copyId: string } | null>(null);
  const [share, setShare] = useState(0);
  const small = plan === null || isSmall(plan.rack);
  useEffect(() => {
    if (small) {
      setKnown(null);
      return undefined;
    }
    const work = inTurn(plan, startJob, setShare);
    setShare(0);
    // What goes wrong in a worker goes wrong again, and is told, where the light is asked for.
    const end = () => setKnown({ plan, copyId });
    work.result.then(end, end);
    return work.cancel;
  }, [plan, copyId, small, startJob]);
  if (small) return { plan, done: null };
  const judged = known?.copyId === copyId ? known.plan : null;
  const done = Math.floor(share * plan.rack.shelves.length);
  return { plan: judged, done: judged === plan ? null : done };
}

const isSmall = ({ shelves, room }: Plan['rack']): boolean =>
  shelves.length <= (room ? AT_ONCE_IN_ROOM : AT_ONCE);

/** The rack as drawn and as treated, one after the other; each takes all processors. Cancelled, it never ends. */
function inTurn(plan: Plan, startJob: StartJob, tell: (share: number) => void): RunningJob<void> {
  let cancelled = false;
  let job: RunningJob<unknown> | null = null;
  const work = async () => {
    const todo = lightToDo(plan);
    for (const [nth, { asked, keep }] of todo.entries()) {
      const one = startJob('lightFigures', asked, (done, total) => {
        if (!cancelled) tell((nth + done / total) / todo.length);
      });
      job = one;
      const found = await one.result;
      if (cancelled) return new Promise<never>(() => undefined);
      keep(found);
    }
  };
  const cancel = () => {
    cancelled = true;
    job?.cancel();
  };
  return { result: work(), cancel };
}
