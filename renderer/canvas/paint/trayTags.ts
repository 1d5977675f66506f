import type { Scene } from '../plane/scene';
import type { TrayThing } from '../plane/things';
import { BOARD_MM, fromAbove } from '../plane/things';
import type { Pen } from './pen';
import { isSeen, paintPlate, pixelRect } from './pen';

/** Codes of the trays, over whatever is drawn round them. `only`: of these trays alone. */
export function paintTrayTags(pen: Pen, scene: Scene, only?: readonly string[]): void {
  for (const thing of scene.things) {
    if (thing.kind !== 'tray' || (only && !only.includes(thing.ref))) continue;
    if (!isSeen(pen, thing.box, 2 * BOARD_MM)) continue;
    if (fromAbove(scene.view)) paintTagAbove(pen, thing);
    else paintTagFront(pen, thing);
  }
}

function paintTagAbove(pen: Pen, thing: TrayThing): void {
  const { colours } = pen;
  const r = pixelRect(pen.view, thing.box);
  if (r.w < 34 || r.h < 24) return;
  const code = `${thing.shelf.number}${thing.tray.letter}`;
  const small = r.w < 120;
  paintPlate(
    pen,
    code,
    { x: r.x + (small ? 14 : 20), y: r.y },
    {
      size: small ? 9 : 11,
      fill: colours.surface,
      ink: colours.ink,
      line: colours.trayLine,
    },
  );
}

/** On the board under the tray, where no pot hides it. */
function paintTagFront(pen: Pen, thing: TrayThing): void {
  const { colours, view } = pen;
  const r = pixelRect(view, thing.box);
  if (r.w < 34) return;
  const at = { x: r.x + r.w / 2, y: r.y + r.h + Math.max(5, (BOARD_MM * view.scale) / 2) };
  paintPlate(pen, `${thing.shelf.number}${thing.tray.letter}`, at, {
    fill: colours.surface,
    ink: colours.ink,
    line: colours.trayLine,
  });
}
