import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { photonsInSteps } from '../../derive';

/** Up to so many shelves are followed at once: nobody waits for them. */
const AT_ONCE = 6;
/** What one step may take before the window has its turn, ms. */
const STEP_MS = 30;

/** How many shelves have been looked at for where their light goes; null: all. */
export function usePhotonsFollowed(plan: Plan): number | null {
  const { rack, light } = plan;
  const [known, setKnown] = useState<Pick<Plan, 'rack' | 'light'> | null>(null);
  const [done, setDone] = useState(0);
  const small = rack.shelves.length <= AT_ONCE;
  useEffect(() => {
    if (small) return undefined;
    const steps = photonsInSteps(plan);
    let timer: ReturnType<typeof setTimeout>;
    let count = 0;
    const go = () => {
      const began = performance.now();
      while (performance.now() - began < STEP_MS) {
        if (steps.next().done) {
          setKnown({ rack, light });
          return;
        }
        count += 1;
      }
      setDone(count);
      timer = setTimeout(go);
    };
    timer = setTimeout(go);
    return () => clearTimeout(timer);
  }, [plan, rack, light, small]);
  return small || (known?.rack === rack && known.light === light) ? null : done;
}
