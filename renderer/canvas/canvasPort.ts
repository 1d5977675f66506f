import type { BoundCommand } from '../document/compose';
import { useMemo } from 'react';
import type { Plan } from '../../shared-types/plan';
import { shelfOf } from '../document/queries';
import { useStores, usePlanStore, useSession, type Stores } from '../store';
import type { ViewName } from './plane/things';

export const tools = [
  'select',
  'pan',
  'shelf',
  'tray',
  'pots',
  'lamp',
  'board',
  'guard',
  'hole',
  'reading',
] as const;
export type Tool = (typeof tools)[number];

/** What the canvas does to the stores, in one place. */
export interface Acts {
  select(refs: readonly string[]): void;
  takeTool(tool: Tool): void;
  setView(view: ViewName): void;
  /** Opens one shelf from above. */
  showShelf(shelfId: string): void;
  setHover(text: string | null): void;
  /** Writes an incident down about what is selected. */
  logIncident(): void;
  /** What is ringed as pointed at, here and in figures. */
  pointAt(ref: string | null): void;
  /** Carries out an act as one undo step; gives what was added, or null where it is refused. */
  act(command: BoundCommand, mergeKey?: string): string[] | null;
  preview(command: BoundCommand): void;
  dropPreview(): void;
}

/** What the canvas needs of the stores. */
export interface CanvasPort extends Acts {
  /** The plan as it is kept, and as it is shown while something is dragged. */
  plan: Plan;
  shown: Plan;
  view: ViewName;
  /** The shelf seen from above: the one chosen, else the lowest. */
  shelfId: string | null;
  selection: readonly string[];
  tool: Tool;
}

/** With a new shelf come its trays and lamps: the shelf stands for them all. */
function outermost(added: readonly string[]): string[] {
  const shelves = added.filter((ref) => ref.startsWith('shelf:'));
  if (shelves.length > 0) return shelves;
  return added.filter((ref) => /^(tray|lamp|board):/.test(ref));
}

/** Changes the view; one shelf from above is the one that is selected, or that holds what is. */
export function openView({ plan: plans, session }: Stores, view: ViewName): void {
  const { plan } = plans.getState();
  const { selection, view: before, setView, showShelf } = session.getState();
  const [first] = selection;
  const shelf = plan && first !== undefined ? shelfOf(plan, first) : undefined;
  if (view === 'above' && before !== 'above' && shelf) showShelf(shelf.id);
  setView(view);
}

export function actsOn({ plan, session }: Stores): Acts {
  return {
    select: (refs) => session.getState().select(refs),
    takeTool: (tool) => session.getState().takeTool(tool),
    setView: (view) => openView({ plan, session }, view),
    showShelf(shelfId) {
      session.getState().showShelf(shelfId);
      session.getState().setView('above');
    },
    setHover: (text) => session.getState().setHover(text),
    logIncident: () => session.getState().logIncident(true),
    pointAt: (ref) => session.getState().pointAt(ref),
    act(command, mergeKey) {
      const done = plan
        .getState()
        .dispatch(command, null, mergeKey === undefined ? {} : { mergeKey });
      return done.ok ? outermost(done.added) : null;
    },
    preview: (command) => void plan.getState().previewCommand(command, null),
    dropPreview: () => plan.getState().cancelPreview(),
  };
}

/** The shelf to show from above: the one asked for, else the lowest there is. */
export function shelfToShow(plan: Plan, shelfId: string | null): string | null {
  const { shelves } = plan.rack;
  if (shelves.some((s) => s.id === shelfId)) return shelfId;
  const [first, ...rest] = shelves;
  if (!first) return null;
  return rest.reduce((low, s) => (s.heightMm < low.heightMm ? s : low), first).id;
}

/** The open plan and the session as the canvas sees them; null while no plan is open. */
export function useCanvasPort(): CanvasPort | null {
  const stores = useStores();
  const plan = usePlanStore((s) => s.plan);
  const preview = usePlanStore((s) => s.preview);
  const view = useSession((s) => s.view);
  const wanted = useSession((s) => s.shelfId);
  const selection = useSession((s) => s.selection);
  const toolName = useSession((s) => s.tool);
  return useMemo(() => {
    if (!plan) return null;
    const shown = preview ?? plan;
    return {
      ...actsOn(stores),
      plan,
      shown,
      view,
      shelfId: shelfToShow(shown, wanted),
      selection,
      tool: tools.find((t) => t === toolName) ?? 'select',
    };
  }, [stores, plan, preview, view, wanted, selection, toolName]);
}
