import { memo, useRef } from 'react';
import { Layer, Shape } from 'react-konva';
import type { RackLook } from '../look';
import { paintAbove, paintAboveWords } from '../paint/above';
import type { CanvasColours } from '../paint/colours';
import { paintFront, paintFrontWords } from '../paint/front';
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
  const pots = usePotPicture(colours);
  return (
    <Layer listening={false}>
      <Shape
        listening={false}
        perfectDrawEnabled={false}
        sceneFunc={(context) => {
          const pen: Pen = { ctx: context._context, view, size, colours, lengths, labels: [] };
          pen.ctx.fillStyle = colours.ground;
          pen.ctx.fillRect(0, 0, size.width, size.height);
          const front = scene.view === 'front';
          if (front) paintFront(pen, scene, look, pots);
          else paintAbove(pen, scene, look, pots);
          paintRings(pen, scene, look);
          // Words come over the rings, and signs where they hide no word.
          if (front) paintFrontWords(pen, scene);
          else paintAboveWords(pen, scene, look);
          paintTrayTags(pen, scene);
          paintSigns(pen, scene, look);
          paintRulers(pen, scene.view);
        }}
      />
    </Layer>
  );
});

/** A picture of pots is good for one theme, and for the letters of the font that is loaded. */
function usePotPicture(colours: CanvasColours): PotPicture {
  const kept = useRef<{ colours: CanvasColours; pots: PotPicture } | null>(null);
  if (kept.current?.colours !== colours) {
    const pots = new PotPicture(Math.max(1, globalThis.devicePixelRatio || 1));
    kept.current = { colours, pots };
  }
  return kept.current.pots;
}
