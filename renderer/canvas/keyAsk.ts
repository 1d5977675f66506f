import type { CanvasPort } from './canvasPort';
import type { RackLook } from './look';
import type { Scene } from './plane/scene';
import type { ViewportControl } from './useViewport';

/** The part of a keyboard event that matters here. */
export interface KeyPress {
  key: string;
  ctrlKey: boolean;
  metaKey: boolean;
  altKey: boolean;
  shiftKey: boolean;
}

export interface KeyAsk {
  room: CanvasPort;
  scene: Scene;
  look: RackLook;
  view: ViewportControl | null;
  cancelGesture: () => boolean;
  holdSpace: (held: boolean) => void;
  /** Goes on to what lies under the selection, or under the pointer. False where nothing does. */
  goUnder: () => boolean;
  /** Brings the keyboard to the inspector. */
  inspect: () => void;
}
