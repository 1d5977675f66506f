import { expect, it } from 'vitest';
import { recentPictureOf, rackThumbnailOf } from '../../renderer/derive';
import { emptyPlan } from '../../renderer/document/new';
import { quickStart } from '../../renderer/document/commands';
import { firstAnswers } from '../../renderer/document/quickStart';
import { readRecentPictures } from '../../renderer/app/start/recentPictures';
import { recentPictureSchema } from '../../shared-types/window/rackThumbnail';
import { run } from '../builders/run';

const empty = emptyPlan('Untitled trial');
const plan = run(empty, quickStart, firstAnswers);

it('draws every shelf, tray and front pot of a rack inside its frame', () => {
  const picture = rackThumbnailOf(plan);
  if (!picture) throw new Error('three shelves have a picture');
  const of = (kind: string) => picture.rects.filter((one) => one.kind === kind);
  expect(
    [of('post'), of('shelf'), of('tray'), of('pot'), of('lamp')].map((all) => all.length),
  ).toEqual(
    // Three lamps behind each other are one from the front, nine columns nine pots.
    [2, 3, 3, 27, 3],
  );
  for (const { x, y, w, h } of picture.rects) {
    expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
    expect(x + w).toBeLessThanOrEqual(picture.w + 0.2);
    expect(y + h).toBeLessThanOrEqual(picture.h + 2);
  }
  // Shelves stand 500 mm apart, of a rack 1750 mm high that is 160 units high.
  const heights = of('shelf').map(({ y }) => y);
  expect((heights[0] ?? 0) - (heights[1] ?? 0)).toBeCloseTo((500 / 1750) * 160, 0);
});

it('puts racks side by side, and has none of an empty one', () => {
  expect(rackThumbnailOf(empty)).toBeNull();
  const [first] = plan.rack.shelves;
  if (!first) throw new Error('there is a shelf');
  const stands = { xMm: 3000, yMm: 0, turnDeg: 0 } as const;
  const two = { ...plan.rack, shelves: [first, { ...first, id: 's90', stands }] };
  const posts = rackThumbnailOf({ rack: two })?.rects.filter(({ kind }) => kind === 'post') ?? [];
  expect(new Set(posts.map(({ x }) => x)).size).toBe(4);
});

it('is kept in little room, and what cannot be read is left out of the list', () => {
  const kept = recentPictureOf(plan, 'a');
  expect(recentPictureSchema.parse(kept)).toEqual(kept);
  expect(JSON.stringify(kept).length).toBeLessThan(6000);
  expect(readRecentPictures([kept, { ...kept, pots: -1 }, 3])).toEqual([kept]);
  expect(readRecentPictures('none')).toEqual([]);
});
