import type { Handle } from '../gestures/resizeArithmetic';
import { handleCursor } from '../gestures/resizeArithmetic';
import type { RackLook } from '../look';
import type { Point } from '../plane/box';
import { hitAt, holeAt } from '../plane/hit';
import type { Scene } from '../plane/scene';
import { shelfAt } from '../plane/scene';
import type { CanvasPort } from '../canvasPort';

/** What the mouse cursor promises: what a press here would do. */
export function cursorFor(
  canvas: { room: CanvasPort; scene: Scene; look: RackLook },
  handle: Handle | null,
  target: string | null,
  at: Point,
): string {
  const { room, scene, look } = canvas;
  if (room.tool === 'pan') return 'grab';
  if (handle) return handleCursor(handle);
  switch (room.tool) {
    case 'select':
      if (target === null || look.editable === false) return 'default';
      if (target.startsWith('shelf:')) return scene.view === 'front' ? 'pointer' : 'default';
      return look.editable === 'lamps' && !target.startsWith('lamp:') ? 'default' : 'move';
    case 'guard':
    case 'hole':
      return holeAt(scene, at) === null ? 'not-allowed' : 'pointer';
    case 'pots':
      return hitAt(scene, at, 0).tray ? 'crosshair' : 'not-allowed';
    case 'tray':
    case 'lamp':
    case 'board':
    case 'reading':
      return shelfAt(scene, at) ? 'crosshair' : 'not-allowed';
    default:
      return 'crosshair';
  }
}
