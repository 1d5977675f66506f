import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { keepFields, shelvesToPicture } from '../../derive';
import { usePlanStore } from '../../store/context';
import { useJob } from '../../store/jobsContext';

/**
 * What the pictures show: all the light; only what comes straight from the lamps, while one is
 * dragged; or the same until reflected light has been computed.
 */
export type LightShown = 'all' | 'dragging' | 'computing';

// So many shelves are computed within a frame or two; more go to the worker.
const AT_ONCE = 2;

export function lightShown(plan: Plan, previewing: boolean): LightShown {
  if (previewing) return 'dragging';
  return shelvesToPicture(plan).length > AT_ONCE ? 'computing' : 'all';
}

/** What the light stage's pictures show just now; starts the long work where there is some. */
export function useLightShown(onStage: boolean): LightShown {
  const plan = usePlanStore((s) => s.plan);
  const previewing = usePlanStore((s) => s.preview !== null);
  const { start, cancel, result } = useJob('lightFields');
  const [asked, setAsked] = useState<Plan | null>(null);
  const wanted = onStage && plan !== null && lightShown(plan, previewing) === 'computing';
  useEffect(() => {
    if (!wanted || !plan || asked === plan) return;
    setAsked(plan);
    const shelfIds = shelvesToPicture(plan).map((shelf) => shelf.id);
    start({ rack: plan.rack, light: plan.light, shelfIds });
  }, [wanted, plan, asked, start]);
  useEffect(() => {
    if (!result || !asked) return;
    keepFields(asked, result);
    cancel();
  }, [result, asked, cancel]);
  return onStage && plan ? lightShown(plan, previewing) : 'all';
}
