import type { Shape as ShapeNode } from 'konva/lib/Shape';
import { memo, useEffect, useRef } from 'react';
import { Layer, Shape } from 'react-konva';
import type { RackLook } from '../look';
import { paintAbove, paintAboveWords } from '../paint/above';
import type { CanvasColours } from '../paint/colours';
import { paintFront, paintFrontWords } from '../paint/front';
import { PanPicture } from '../paint/panPicture';
import type { Pen } from '../paint/pen';
import { PotPicture } from '../paint/potPicture';
import { paintRings, paintSigns } from '../paint/rings';
import { paintRulers } from '../paint/rulers';
import { paintTrayTags } from '../paint/trayTags';
import type { Scene } from '../plane/scene';
import type { PixelSize, Viewport } from '../plane/viewport';
import type { UnitSystem } from '../../words';

/**
 * The whole rack in one shape that takes no part in hit testing: thousands of pots stay smooth. It is
 * painted only when one of these has changed, not for a selection or a pointer.
 */
export const RackLayer = memo(function RackLayer(props: {
  scene: Scene;
  look: RackLook;
  view: Viewport;
  size: PixelSize;
  colours: CanvasColours;
  lengths: UnitSystem;
}) {
  const { scene, look, view, size, colours, lengths } = props;
  const pictures = usePictures(colours);
  const shape = useRef<ShapeNode>(null);
  const shifted = useRef(false);
  // Once the picture rests it is painted whole: signs keep to what is in view.
  useEffect(() => {
    const timer = setTimeout(() => {
      if (!shifted.current) return;
      pictures.whole.forget();
      shape.current?.getLayer()?.batchDraw();
    }, RESTED_MS);
    return () => clearTimeout(timer);
  }, [view, pictures]);
  return (
    <Layer listening={false}>
      <Shape
        ref={shape}
        listening={false}
        perfectDrawEnabled={false}
        sceneFunc={(context) => {
          const pen: Pen = { ctx: context._context, view, size, colours, lengths, labels: [] };
          const { whole, pots } = pictures;
          shifted.current = whole.paint(pen, scene, look, (own) =>
            paintRack(own, scene, look, pots),
          );
          paintRulers(pen, scene.view);
        }}
      />
    </Layer>
  );
});

/** A picture that has not been moved for so long rests. */
const RESTED_MS = 250;

/** All but the rulers, which stand still on the screen. */
function paintRack(pen: Pen, scene: Scene, look: RackLook, pots: PotPicture): void {
  const front = scene.view === 'front';
  pen.ctx.fillStyle = pen.colours.ground;
  pen.ctx.fillRect(0, 0, pen.size.width, pen.size.height);
  if (front) paintFront(pen, scene, look, pots);
  else paintAbove(pen, scene, look, pots);
  paintRings(pen, scene, look);
  // Words come over the rings, and signs where they hide no word.
  if (front) paintFrontWords(pen, scene);
  else paintAboveWords(pen, scene, look);
  paintTrayTags(pen, scene);
  paintSigns(pen, scene, look);
}

/** Pictures are good for one theme, and for the letters of the font that is loaded. */
function usePictures(colours: CanvasColours): Pictures {
  const kept = useRef<Pictures | null>(null);
  if (kept.current?.colours !== colours) {
    const ratio = Math.max(1, globalThis.devicePixelRatio || 1);
    kept.current = { colours, whole: new PanPicture(ratio), pots: new PotPicture(ratio) };
  }
  return kept.current;
}

interface Pictures {
  colours: CanvasColours;
  whole: PanPicture;
  pots: PotPicture;
}
