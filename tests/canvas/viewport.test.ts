import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fitted,
  panned,
  pinched,
  toPixel,
  toPlane,
  visibleBox,
  zoomedAbout,
} from '../../renderer/canvas/plane/viewport';

const view = { scale: 0.5, originX: 100, originY: 400 };
const figure = fc.double({ min: -2000, max: 2000, noNaN: true });

describe('viewport', () => {
  it('draws up on the plane as up on the screen', () => {
    expect(toPixel(view, { across: 200, up: 100 })).toEqual({ x: 200, y: 350 });
  });

  it('goes to the plane and back', () => {
    fc.assert(
      fc.property(figure, figure, (x, y) => {
        const back = toPixel(view, toPlane(view, { x, y }));
        expect(back.x).toBeCloseTo(x, 6);
        expect(back.y).toBeCloseTo(y, 6);
      }),
    );
  });

  it('keeps what lies under the pointer while zooming, also where the scale stops', () => {
    fc.assert(
      fc.property(
        figure,
        figure,
        fc.double({ min: 0.001, max: 1000, noNaN: true }),
        (x, y, factor) => {
          const at = { x, y };
          const before = toPlane(view, at);
          const after = toPlane(zoomedAbout(view, at, factor), at);
          expect(after.across).toBeCloseTo(before.across, 4);
          expect(after.up).toBeCloseTo(before.up, 4);
        },
      ),
    );
    expect(zoomedAbout(view, { x: 0, y: 0 }, 1e9).scale).toBe(8);
  });

  it('keeps what lies between two fingers between them and scales with their distance', () => {
    const before = [
      { x: 100, y: 100 },
      { x: 200, y: 100 },
    ] as const;
    const after = [
      { x: 150, y: 300 },
      { x: 350, y: 300 },
    ] as const;
    const next = pinched(view, before, after);
    expect(next.scale).toBeCloseTo(1, 12);
    const was = toPlane(view, { x: 150, y: 100 });
    const is = toPlane(next, { x: 250, y: 300 });
    expect(is.across).toBeCloseTo(was.across, 9);
    expect(is.up).toBeCloseTo(was.up, 9);
  });

  it('fits a box whole and centred inside its margins', () => {
    const box = { left: 0, right: 1200, bottom: 0, top: 600 };
    const size = { width: 1000, height: 800 };
    const fit = fitted(box, size, { left: 100, right: 50, top: 40, bottom: 60 });
    const a = toPixel(fit, { across: 0, up: 600 });
    const b = toPixel(fit, { across: 1200, up: 0 });
    expect(fit.scale).toBeCloseTo(850 / 1200, 12);
    expect(a.x).toBeCloseTo(100, 9);
    expect(b.x).toBeCloseTo(950, 9);
    expect((a.y + b.y) / 2).toBeCloseTo(40 + 350, 9);
  });

  it('pans by pixels and shows the matching part of the plane', () => {
    const seen = visibleBox(panned(view, 10, 20), { width: 300, height: 200 });
    expect(seen).toEqual({ left: -220, right: 380, bottom: 440, top: 840 });
  });
});
