import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { lightInSteps } from '../../derive';
import { usePlanStore } from '../../store/context';

/** Up to so many shelves are worked out at once: nobody waits for them. */
const AT_ONCE = 24;
/** What one step may take before the window has its turn, ms. */
const STEP_MS = 30;

export interface WorkedOut {
  /** The last plan whose light is known, or a small one; null: none is yet. */
  plan: Plan | null;
  /** How many shelves of the plan in hand are done, while some are not. */
  done: number | null;
}

/**
 * The light of many shelves is worked out in steps between which the window stays in hand: until then
 * what rests on it is judged by the plan before.
 */
export function useWorkedOut(plan: Plan | null): WorkedOut {
  // Of another file nothing is known.
  const copyId = usePlanStore((s) => s.copyId);
  const [known, setKnown] = useState<{ plan: Plan; copyId: string } | null>(null);
  const [done, setDone] = useState(0);
  const small = plan === null || plan.rack.shelves.length <= AT_ONCE;
  useEffect(() => {
    if (small) {
      setKnown(null);
      return undefined;
    }
    const steps = lightInSteps(plan);
    let timer: ReturnType<typeof setTimeout>;
    let count = 0;
    const go = () => {
      const began = performance.now();
      while (performance.now() - began < STEP_MS) {
        if (steps.next().done) {
          setKnown({ plan, copyId });
          return;
        }
        count += 1;
      }
      setDone(count);
      timer = setTimeout(go);
    };
    timer = setTimeout(go);
    return () => clearTimeout(timer);
  }, [plan, copyId, small]);
  if (small) return { plan, done: null };
  const judged = known?.copyId === copyId ? known.plan : null;
  return { plan: judged, done: judged === plan ? null : done };
}
