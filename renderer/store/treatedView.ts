import { useMemo } from 'react';
import type { Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { planAsTreated, standingView } from '../derive';
import { blindedSince } from '../document/queries';
import { hasSettings, type TreatedView } from '../engine/treated';
import { useKept, usePlanStore, useSession, type Kept } from './context';

// A rack is edited as drawn; its light and water are looked at as they stand.
const ON_RACK: Kept<TreatedView | null> = { name: 'rack treated', initial: { as: 'bare' } };
const ELSEWHERE: Kept<TreatedView | null> = { name: 'treated', initial: null };

/** Whether a plan has something to show in a view. */
function isThere(plan: Plan, view: TreatedView): boolean {
  const { trial, layout } = plan;
  switch (view.as) {
    case 'bare':
      return true;
    case 'treated':
      // Which unit has which lamps or water would tell the treatments.
      if (blindedSince(plan) !== null) return false;
      return layout !== null || (trial?.factors.some(({ kind }) => kind === 'fixed') ?? false);
    case 'level':
      return (
        trial?.factors.some(
          ({ id, levels }) => id === view.factorId && levels.some((l) => l.id === view.levelId),
        ) ?? false
      );
  }
}

/** How the rack is to be seen on this stage, as treated or as drawn, and how to choose that. */
export function useTreatedView(): readonly [TreatedView, (view: TreatedView) => void] {
  const stage = useSession((s) => s.stage);
  const plan = usePlanStore((s) => s.plan);
  const [chosen, choose] = useKept(stage === 'rack' ? ON_RACK : ELSEWHERE);
  if (!plan || !hasSettings(plan.trial)) return [BARE, choose];
  const standing = blindedSince(plan) === null ? standingView(plan) : BARE;
  return [chosen && isThere(plan, chosen) ? chosen : standing, choose];
}

const BARE: TreatedView = { as: 'bare' };

/** How each stage sees the rack: as one chooses, as it stands once treatments are given, or as drawn. */
const SEES: Record<Stage, 'chosen' | 'standing' | 'drawn'> = {
  rack: 'chosen',
  light: 'chosen',
  flood: 'chosen',
  trial: 'drawn',
  layout: 'standing',
  chart: 'standing',
  records: 'standing',
  findings: 'standing',
};

/** A plan with its rack as this stage is to show it; the plan itself where that is the rack as drawn. */
export function useAsShown(plan: Plan | null): Plan | null {
  const stage = useSession((s) => s.stage);
  const [chosen] = useTreatedView();
  return useMemo(() => {
    if (!plan) return null;
    switch (SEES[stage]) {
      case 'chosen':
        return planAsTreated(plan, chosen);
      case 'standing':
        // The sizes of pots as treated would tell their treatments.
        if (blindedSince(plan) !== null) return plan;
        return hasSettings(plan.trial) ? planAsTreated(plan, standingView(plan)) : plan;
      case 'drawn':
        return plan;
    }
  }, [plan, stage, chosen]);
}
