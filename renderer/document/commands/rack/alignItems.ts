import { boundsOf, rectsOverlap, type Rect } from '../../../engine/geometry';
import { alignmentWords, type Alignment } from '../../../../shared-types/window/arranging';
import type { Plan } from '../../../../shared-types/plan';
import { list } from '../../../words';
import { Refusal, type Command } from '../../command';
import { placedOf, type OnShelf } from '../../queries/placing';
import { nameOf, sayThings } from '../../queries/names';
import { moveItems } from './moveItems';

/** Trays, lamps and boards, of one shelf or several, in one line. */
export const alignItems: Command<{ items: readonly string[]; to: Alignment }> = {
  name: 'alignItems',
  label: ({ items, to }, plan) =>
    `Line up ${sayThings(plan, items)}: ${alignmentWords[to].toLowerCase()}`,
  run: (plan, { items, to }) => {
    const placed = placedOf(plan, items);
    if (placed.length < 2) throw new Refusal('Select two things or more to line them up.');
    const after = placed.reduce((sum, one) => {
      const by = shiftFor(placed, one, to);
      return by.dxMm === 0 && by.dyMm === 0 && by.dzMm === 0
        ? sum
        : moveItems.run(sum, { items: [one.ref], ...by });
    }, plan);
    checkApart(plan, after, items);
    return after;
  },
};

function shiftFor(all: readonly OnShelf[], { kind, rect, ...one }: OnShelf, to: Alignment) {
  const still = { dxMm: 0, dyMm: 0, dzMm: 0 };
  const whole = boundsOf(all.map((each) => each.rect));
  const across = (share: number) => ({
    ...still,
    dxMm: whole.xMm + share * whole.widthMm - (rect.xMm + share * rect.widthMm),
  });
  const deep = (share: number) => ({
    ...still,
    dyMm: whole.yMm + share * whole.depthMm - (rect.yMm + share * rect.depthMm),
  });
  switch (to) {
    case 'left':
      return across(0);
    case 'centre':
      return across(0.5);
    case 'right':
      return across(1);
    case 'front':
      return deep(0);
    case 'middle':
      return deep(0.5);
    case 'back':
      return deep(1);
    case 'lowest':
    case 'highest': {
      const heights = all.flatMap((each) => (each.kind === 'lamp' ? [each.lamp.zMm] : []));
      if (kind !== 'lamp' || !('lamp' in one)) return still;
      const zMm = to === 'lowest' ? Math.min(...heights) : Math.max(...heights);
      return { ...still, dzMm: zMm - one.lamp.zMm };
    }
  }
}

/** Refuses to put things of one kind on top of each other that were not. */
function checkApart(before: Plan, after: Plan, items: readonly string[]): void {
  const was = new Map(placedOf(before, items).map((one) => [one.ref, one.rect]));
  const now = placedOf(after, items);
  const met = (a: Rect | undefined, b: Rect | undefined) => !!a && !!b && rectsOverlap(a, b);
  for (const [i, a] of now.entries()) {
    for (const b of now.slice(i + 1)) {
      if (a.kind !== b.kind || a.shelf.id !== b.shelf.id || !met(a.rect, b.rect)) continue;
      if (met(was.get(a.ref), was.get(b.ref))) continue;
      const names = list([nameOf(before, a.ref), nameOf(before, b.ref)]);
      const verb = a.kind === 'lamp' ? 'hang' : 'stand';
      throw new Refusal(`So ${names} would ${verb} in one place. Line them up by another side.`);
    }
  }
}
