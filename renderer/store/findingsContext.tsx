import { createContext, useContext, useEffect } from 'react';
import type { ReactNode } from 'react';
import { useStore } from 'zustand';
import { usePlanStore } from './context';
import { isCurrent, type FindingsState, type FindingsStore } from './findingsStore';

const FindingsContext = createContext<FindingsStore | null>(null);

export function FindingsProvider(props: { store: FindingsStore; children: ReactNode }) {
  return <FindingsContext value={props.store}>{props.children}</FindingsContext>;
}

/** The findings of the open plan; asking for them starts the work. */
export function useFindings<T>(selector: (state: FindingsState) => T): T {
  const store = useContext(FindingsContext);
  if (!store) throw new Error('useFindings: found no FindingsProvider around it; one is expected');
  return useStore(store, selector);
}

/** Keeps the findings in step with the open plan while a screen that shows them is up. */
export function useFindingsOfPlan(): void {
  const plan = usePlanStore((s) => s.plan);
  const copyId = usePlanStore((s) => s.copyId);
  const ask = useFindings((s) => s.ask);
  const choice = useFindings((s) => s.choice);
  useEffect(() => {
    if (plan) ask(plan, copyId);
  }, [plan, copyId, ask, choice]);
}

/**
 * The last findings that may be looked at beside the open plan: its own, of the measurement that is
 * chosen. They may be earlier ones (see `useFindingsCurrent`).
 */
export function useFindingsShown(): FindingsState['outcome'] {
  const copyId = usePlanStore((s) => s.copyId);
  return useFindings(({ answered, choice, outcome }) =>
    answered !== null && answered.copyId === copyId && answered.choice === choice ? outcome : null,
  );
}

/**
 * Whether the findings on screen are those of the plan as it stands. Others say so, and cannot be
 * saved or printed. Those of a table stay as the table was read.
 */
export function useFindingsCurrent(): boolean {
  const plan = usePlanStore((s) => s.plan);
  return useFindings((s) => s.fromTable !== null || (plan !== null && isCurrent(s, plan)));
}

/** The findings of the plan as it stands; null while there are none, or only earlier ones. */
export function useCurrentOutcome(): FindingsState['outcome'] {
  const plan = usePlanStore((s) => s.plan);
  return useFindings((s) => (plan !== null && isCurrent(s, plan) ? s.outcome : null));
}
