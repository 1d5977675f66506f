export { StoreProvider, useDispatch, usePlanStore, useSession, useStores } from './context';
export type { Stores } from './context';
export { createPlanStore, isUnsaved, redoLabel, shownPlan, undoLabel } from './planStore';
export type { Dispatched, PlanState, PlanStore } from './planStore';
export { keepRecovery } from './recovery';
export { useAsShown, useTreatedView } from './treatedView';
export { createSessionStore } from './sessionStore';
export type { EntryBy, Paper, RackView, SessionState, SessionStore, Theme } from './sessionStore';
