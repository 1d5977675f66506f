import type { CanvasPort } from '../canvasPort';
import type { RackLook } from '../look';
import type { Scene } from '../plane/scene';
import type { KeyedTool } from './useKeyedTool';
import type { ViewportControl } from '../useViewport';

export interface KeyAsk {
  room: CanvasPort;
  scene: Scene;
  look: RackLook;
  view: ViewportControl | null;
  /** A tool in the hand of the keyboard. */
  keyed: Pick<KeyedTool, 'press' | 'take'>;
  cancelGesture: () => boolean;
  holdSpace: (held: boolean) => void;
  /** Goes on to what lies under the selection, or under the pointer. False where nothing does. */
  goUnder: () => boolean;
  /** Brings the keyboard to the inspector. */
  inspect: () => void;
}
