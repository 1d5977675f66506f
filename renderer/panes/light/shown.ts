import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { keepFields, lightOverTrialOf, shelvesToPicture, type Counted } from '../../derive';
import { usePlanStore } from '../../store/context';
import { useJob } from '../../store/jobsContext';
import { useLightSitting } from './sitting';

/**
 * What the pictures show: all the light; only what comes straight from the lamps, while one is
 * dragged; the same until reflected light has been computed; or, where trays are moved by a rota,
 * all the light with every pot's mean over the trial.
 */
export type LightShown = 'all' | 'dragging' | 'computing' | 'overTrial';

/** What the colours of a picture count. */
export function countedIn(shown: LightShown): Counted {
  return shown === 'all' || shown === 'overTrial' ? 'reflected' : 'direct';
}

// So many shelves are computed within a frame or two; more go to the worker.
const AT_ONCE = 2;

export function lightShown(plan: Plan, previewing: boolean, overTrial: boolean): LightShown {
  if (previewing) return 'dragging';
  if (shelvesToPicture(plan).length > AT_ONCE) return 'computing';
  return overTrial && lightOverTrialOf(plan)?.ok ? 'overTrial' : 'all';
}

/** What the light stage's pictures show just now; starts the long work where there is some. */
export function useLightShown(onStage: boolean): LightShown {
  const plan = usePlanStore((s) => s.plan);
  const previewing = usePlanStore((s) => s.preview !== null);
  const { start, cancel, result } = useJob('lightFields');
  const [asked, setAsked] = useState<Plan | null>(null);
  const overTrial = useLightSitting((s) => s.overTrial);
  const shown = onStage && plan ? lightShown(plan, previewing, overTrial) : 'all';
  const wanted = plan !== null && shown === 'computing';
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
  return shown;
}
