import { createContext, useContext } from 'react';
import type { ReactNode } from 'react';
import { useStore } from 'zustand';
import type { PlanState, PlanStore } from './planStore';
import type { SessionState, SessionStore } from './sessionStore';

export interface Stores {
  readonly plan: PlanStore;
  readonly session: SessionStore;
}

const StoresContext = createContext<Stores | null>(null);

export function StoreProvider({ stores, children }: { stores: Stores; children: ReactNode }) {
  return <StoresContext value={stores}>{children}</StoresContext>;
}

/** The stores themselves, for code that acts outside of drawing (gestures, menus). */
export function useStores(): Stores {
  const stores = useContext(StoresContext);
  if (!stores) throw new Error('useStores: found no StoreProvider around it; one is expected');
  return stores;
}

/** Selectors return parts of the state as they are; what is computed belongs into `derive`. */
export function usePlanStore<T>(selector: (state: PlanState) => T): T {
  return useStore(useStores().plan, selector);
}

export function useSession<T>(selector: (state: SessionState) => T): T {
  return useStore(useStores().session, selector);
}

export function useDispatch(): PlanState['dispatch'] {
  return usePlanStore((state) => state.dispatch);
}

/** A choice that outlives the screen it is made on, by a name that nothing else has. */
export interface Kept<T> {
  readonly name: string;
  readonly initial: T;
}

/** As `useState`, but the choice stays for this session when its stage is left. */
export function useKept<T>({ name, initial }: Kept<T>): readonly [T, (choice: T) => void] {
  const keep = useSession((state) => state.keep);
  // Only `keep` of the same name writes it, with the type of its `initial`.
  const choice = useSession((state) =>
    state.kept.has(name) ? state.kept.get(name) : initial,
  ) as T;
  return [choice, (next) => keep(name, next)];
}
