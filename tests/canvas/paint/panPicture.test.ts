import { expect, it } from 'vitest';
import { BARE_LOOK, type PotPaint } from '../../../renderer/canvas/look';
import { onlyPots, shiftBetween, stripsBeside } from '../../../renderer/canvas/paint/panPicture';
import { sceneOf } from '../../../renderer/canvas/plane/scene';
import { samplePlan } from '../../builders/samplePlan';

const scene = sceneOf(samplePlan().rack, 'all', null);
const size = { width: 600, height: 500 };
const painted = (originX: number, originY: number, scale = 0.2) => ({
  scene,
  look: BARE_LOOK,
  size,
  lengths: 'metric' as const,
  view: { scale, originX, originY },
});

it('shifts a picture that has only moved, by whole pixels of the screen', () => {
  const before = painted(50.25, 400);
  expect(shiftBetween(before, painted(57.25, 397), 1)).toEqual({ x: 7, y: -3 });
  expect(shiftBetween(before, painted(50.75, 400), 2)).toEqual({ x: 0.5, y: 0 });
  // Half a pixel would blur, another scale or rack is another picture, and so is one far off.
  expect(shiftBetween(before, painted(50.75, 400), 1)).toBeNull();
  expect(shiftBetween(before, painted(57.25, 397, 0.21), 1)).toBeNull();
  expect(shiftBetween(before, { ...painted(57.25, 397), look: { ...BARE_LOOK } }, 1)).toBeNull();
  expect(shiftBetween(before, painted(650.25, 400), 1)).toBeNull();
  expect(shiftBetween(before, before, 1)).toBeNull();
});

it('paints what a shift leaves bare, and nothing else', () => {
  for (const by of [
    { x: 7, y: -3 },
    { x: -7, y: 3 },
    { x: 0, y: 5 },
  ]) {
    const bare = (x: number, y: number) => {
      const [fromX, fromY] = [x - by.x, y - by.y];
      return fromX < 0 || fromY < 0 || fromX >= size.width || fromY >= size.height;
    };
    const strips = stripsBeside(size, by);
    for (let x = 0; x < size.width; x += 1) {
      for (const y of [0, 2, 3, 5, 250, 494, 496, 497, 499]) {
        const inStrip = strips.some((s) => x >= s.x && x < s.x + s.w && y >= s.y && y < s.y + s.h);
        if (inStrip !== bare(x, y)) throw new Error(`${x}, ${y} by ${by.x}, ${by.y}`);
      }
    }
  }
});

it('paints a few pots alone where nothing else of the picture is another one', () => {
  const plain = { fill: '#fff', ink: '#000' };
  const paint = (changed: Record<string, PotPaint> = {}) =>
    new Map(scene.pots.map(({ pot }) => [pot.id, changed[pot.id] ?? plain]));
  const look = { ...BARE_LOOK, potPaint: paint() };
  const before = { ...painted(50, 400), look };
  const [pot] = scene.pots.map((one) => one.pot.id);
  const after = (changed: PotPaint) => ({
    ...painted(50, 400),
    look: { ...look, potPaint: paint({ [pot ?? '']: changed }) },
  });
  const full = { fill: '#35a', ink: '#fff' };
  expect(onlyPots(before, after(full))?.map((one) => one.pot.id)).toEqual([pot]);
  // A figure reaches out of its pot; another place, ring or rack is another picture.
  expect(onlyPots(before, after({ ...full, text: '12.4' }))).toBeNull();
  expect(onlyPots(before, { ...after(full), ...painted(51, 400) })).toBeNull();
  const ringed = new Map([['tray:t1', 'warn' as const]]);
  const { look: painted1 } = after(full);
  expect(onlyPots(before, { ...before, look: { ...painted1, ringed } })).toBeNull();
  expect(onlyPots(before, before)).toBeNull();
});
