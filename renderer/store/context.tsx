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
