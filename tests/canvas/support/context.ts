import type { GestureContext, Pointer } from '../../../renderer/canvas/gestures/gesture';
import type { Taken } from '../../../renderer/canvas/gestures/cycle';
import { NOTHING_SHOWN } from '../../../renderer/canvas/layers/show';
import type { PointerKeys } from '../../../renderer/canvas/gestures/moveArithmetic';
import { actsOn } from '../../../renderer/canvas/canvasPort';
import type { ViewName } from '../../../renderer/canvas/plane/things';
import { sceneOf } from '../../../renderer/canvas/plane/scene';
import { createPlanStore, createSessionStore } from '../../../renderer/store';
import type { Plan } from '../../../shared-types/plan';

/** The real stores with a plan open, and a gesture's context on them. */
export function rackOf(plan: Plan) {
  const stores = { plan: createPlanStore(), session: createSessionStore() };
  stores.plan.getState().open(plan, null);
  const acts = actsOn(stores);
  const now = () => {
    const kept = stores.plan.getState().plan;
    if (!kept) throw new Error('no plan is open');
    return kept;
  };
  let shown = NOTHING_SHOWN;
  let taken: Taken | null = null;
  let view = { scale: 1, originX: 0, originY: 0 };
  const context = (name: ViewName, shelfId: string | null): GestureContext => ({
    scene: sceneOf(now().rack, name, shelfId),
    plan: now(),
    selection: stores.session.getState().selection,
    taken,
    take: (next) => {
      taken = next;
    },
    lampsOnly: false,
    lengths: 'metric',
    toleranceMm: 8,
    view: () => view,
    setView: (next) => {
      view = next;
    },
    select: acts.select,
    show: (next) => {
      shown = next;
    },
    preview: acts.preview,
    dropPreview: acts.dropPreview,
    act: acts.act,
    showShelf: acts.showShelf,
    toolDone: () => acts.takeTool('select'),
  });
  return {
    stores,
    acts,
    plan: now,
    context,
    view: () => view,
    shown: () => shown,
    selection: () => stores.session.getState().selection,
    steps: () => stores.plan.getState().history.past.map((step) => step.label),
    preview: () => stores.plan.getState().preview,
  };
}

/** A pointer at a place of the plane; one pixel is one millimetre. */
export function at(across: number, up: number, keys: Partial<PointerKeys> = {}): Pointer {
  return {
    pixel: { x: across, y: -up },
    plane: { across, up },
    keys: { shift: false, ctrl: false, alt: false, ...keys },
  };
}
