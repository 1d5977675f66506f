import { useEffect, useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  directLight,
  keepFields,
  lightOverTrialOf,
  fieldsInputOf,
  shelvesToPicture,
  type LightCounted,
} from '../../derive';
import { useAsShown, usePlanStore } from '../../store';
import { useJob } from '../../store/jobsContext';
import { useLightSession } from './lightSession';

/**
 * What the pictures show: all the light; only what comes straight from the lamps, while one is
 * dragged; the same until reflected light has been computed; or, where trays are moved by a rota,
 * all the light with every pot's mean over the trial.
 */
type Showing = 'all' | 'dragging' | 'computing' | 'overTrial';

export interface LightShown {
  showing: Showing;
  /** What the colours of a picture count. */
  counted: LightCounted;
}

export const ALL_LIGHT: LightShown = { showing: 'all', counted: 'reflected' };

// So many shelves are computed within a frame or two; more go to the worker.
const AT_ONCE = 2;

/** `settled`: the plan as it is without what is being dragged. */
export function lightShown(settled: Plan, previewing: boolean, overTrial: boolean): LightShown {
  const showing = showingOf(settled, previewing, overTrial);
  const direct = showing === 'dragging' || showing === 'computing';
  return { showing, counted: direct ? directLight(settled) : 'reflected' };
}

function showingOf(plan: Plan, previewing: boolean, overTrial: boolean): Showing {
  if (previewing) return 'dragging';
  if (shelvesToPicture(plan).length > AT_ONCE) return 'computing';
  return overTrial && lightOverTrialOf(plan)?.ok ? 'overTrial' : 'all';
}

/** What the light stage's pictures show just now; starts the long work where there is some. */
export function useLightShown(onStage: boolean): LightShown {
  const plan = useAsShown(usePlanStore((s) => s.plan));
  const previewing = usePlanStore((s) => s.preview !== null);
  const { start, cancel, result } = useJob('lightFields');
  const [asked, setAsked] = useState<Plan | null>(null);
  const overTrial = useLightSession((s) => s.overTrial);
  const { showing, counted } =
    onStage && plan ? lightShown(plan, previewing, overTrial) : ALL_LIGHT;
  const wanted = plan !== null && showing === 'computing';
  useEffect(() => {
    if (!wanted || !plan || asked === plan) return;
    setAsked(plan);
    start(fieldsInputOf(plan));
  }, [wanted, plan, asked, start]);
  useEffect(() => {
    if (!result || !asked) return;
    keepFields(asked, result);
    cancel();
  }, [result, asked, cancel]);
  return useMemo(() => ({ showing, counted }), [showing, counted]);
}
