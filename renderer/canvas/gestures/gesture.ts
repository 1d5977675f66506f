import type { BoundCommand } from '../../document/compose';
import type { Plan } from '../../../shared-types/plan';
import type { GestureShow } from '../layers/show';
import type { Point } from '../plane/box';
import type { Scene } from '../plane/scene';
import type { Pixel, Viewport } from '../plane/viewport';
import type { Taken } from './cycle';
import type { PointerKeys } from './moveArithmetic';
import type { UnitSystem } from '../../words';

/** The pointer at one timepoint: on the canvas, on the plane, and the keys held with it. */
export interface Pointer {
  pixel: Pixel;
  plane: Point;
  keys: PointerKeys;
  /** The second press of a double click, where that means something else than two clicks. */
  second?: boolean;
}

/** One drag: moved any number of times, then completed or cancelled, once. */
export interface Gesture {
  move(pointer: Pointer): void;
  complete(pointer: Pointer): void;
  /** Everything is as it was before the gesture began. */
  cancel(): void;
}

/** What gestures may see and do. The scene and the selection are those of the start. */
export interface GestureContext {
  scene: Scene;
  plan: Plan;
  selection: readonly string[];
  /** What was taken out of a stack last. */
  taken: Taken | null;
  lampsOnly: boolean;
  lengths: UnitSystem;
  /** Reach of snapping, mm on the plane. */
  toleranceMm: number;
  view(): Viewport;
  setView(view: Viewport): void;
  select(refs: readonly string[]): void;
  take(taken: Taken): void;
  show(show: GestureShow): void;
  /** Shows what an act would do; the plan itself stays. */
  preview(command: BoundCommand): void;
  dropPreview(): void;
  /** Carries out an act as one undo step; gives what was added, null where it is refused. */
  act(command: BoundCommand): string[] | null;
  /** Opens one shelf from above. */
  showShelf(shelfId: string): void;
  /** Goes back to the selecting tool after something has been added. */
  toolDone(): void;
}
