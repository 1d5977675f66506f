import type { Guide } from '../plane/guides';
import { toPixel } from '../plane/viewport';
import { paintDimension } from './dimension';
import type { Pen } from './pen';

/** Snap lines, equal gaps and measures of a drag. */
export function paintGuides(pen: Pen, guides: readonly Guide[]): void {
  const { ctx, view, colours } = pen;
  for (const guide of guides) {
    const level = guide.axis === 'across';
    const from = toPixel(
      view,
      level ? { across: guide.from, up: guide.at } : { across: guide.at, up: guide.from },
    );
    const to = toPixel(
      view,
      level ? { across: guide.to, up: guide.at } : { across: guide.at, up: guide.to },
    );
    if (guide.kind === 'line') {
      ctx.strokeStyle = colours.focus;
      ctx.lineWidth = 1;
      ctx.setLineDash([6, 3]);
      ctx.beginPath();
      ctx.moveTo(from.x - (level ? 12 : 0), from.y + (level ? 0 : 12));
      ctx.lineTo(to.x + (level ? 12 : 0), to.y - (level ? 0 : 12));
      ctx.stroke();
      ctx.setLineDash([]);
      continue;
    }
    const gap = guide.kind === 'gap';
    paintDimension(pen, from, to, guide.to - guide.from, {
      colour: gap ? colours.focus : colours.ink,
      ground: colours.ground,
      plate: gap
        ? { fill: colours.accent, ink: colours.onAccent }
        : { fill: colours.raised, ink: colours.ink },
    });
  }
}
