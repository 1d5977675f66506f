import { describe, expect, it } from 'vitest';
import type { Box } from '../../renderer/canvas/plane/box';
import type { Axis } from '../../renderer/canvas/plane/axis';
import { clearMeasures } from '../../renderer/canvas/plane/guides';
import { snapEdge, snapMove, wholeStep } from '../../renderer/canvas/plane/snap';

const box = (left: number, right: number, bottom = 0, top = 100): Box => ({
  left,
  right,
  bottom,
  top,
});
const both: Axis[] = ['across', 'up'];
const shelf = box(0, 1200, 0, 600);

describe('snapMove', () => {
  it('brings an edge to a neighbour’s edge and says along which line', () => {
    const result = snapMove({
      moving: box(304, 504, 250, 350),
      siblings: [box(0, 300, 0, 100)],
      container: null,
      toleranceMm: 8,
      axes: both,
    });
    expect(result.byAcross).toBe(-4);
    expect(result.byUp).toBe(0);
    expect(result.guides).toEqual([{ kind: 'line', axis: 'up', from: 0, to: 350, at: 300 }]);
  });

  it('brings a centre to the centre of the shelf', () => {
    const result = snapMove({
      moving: box(495, 695, 103, 203),
      siblings: [],
      container: shelf,
      toleranceMm: 8,
      axes: both,
    });
    expect(result.byAcross).toBe(5);
    expect(result.byUp).toBe(0);
    expect(result.guides.some((g) => g.kind === 'line' && g.axis === 'up' && g.at === 600)).toBe(
      true,
    );
  });

  it('leaves things alone beyond the tolerance', () => {
    const result = snapMove({
      moving: box(320, 520, 250, 350),
      siblings: [box(0, 300)],
      container: null,
      toleranceMm: 8,
      axes: both,
    });
    expect(result).toEqual({ byAcross: 0, byUp: 0, guides: [] });
  });

  it('sets a thing midway between two neighbours', () => {
    const result = snapMove({
      moving: box(452, 552),
      siblings: [box(100, 300), box(700, 800)],
      container: null,
      toleranceMm: 8,
      axes: ['across'],
    });
    // The free 400 mm between 300 and 700 less the thing's 100 mm leaves 150 mm on each side.
    expect(result.byAcross).toBe(-2);
    const gaps = result.guides.filter((g) => g.kind === 'gap').map((g) => g.to - g.from);
    expect(gaps).toEqual([150, 150]);
  });

  it('goes on with the spacing of a row, counted from the shelf’s side', () => {
    const result = snapMove({
      moving: box(443, 643),
      siblings: [box(40, 400)],
      container: shelf,
      toleranceMm: 8,
      axes: ['across'],
    });
    // 40 mm from the side to the first; the next belongs 40 mm beyond 400.
    expect(result.byAcross).toBe(-3);
  });

  it('does not space by things in another row', () => {
    const result = snapMove({
      moving: box(452, 552, 300, 400),
      siblings: [box(100, 300, 0, 100), box(700, 800, 0, 100)],
      container: null,
      toleranceMm: 8,
      axes: ['across'],
    });
    expect(result.byAcross).toBe(0);
  });

  it('moves along the allowed axis only', () => {
    const result = snapMove({
      moving: box(304, 504, 3, 103),
      siblings: [box(0, 300, 0, 100)],
      container: null,
      toleranceMm: 8,
      axes: ['up'],
    });
    expect([result.byAcross, result.byUp]).toEqual([0, -3]);
  });
});

describe('measures while dragging', () => {
  it('gives the clear distance to the nearest neighbour or else to the shelf’s side', () => {
    const guides = clearMeasures(box(500, 700, 50, 150), [box(0, 300, 0, 100)], shelf, both);
    expect(guides.map((g) => [g.axis, g.to - g.from])).toEqual([
      ['across', 200],
      ['across', 500],
      ['up', 50],
      ['up', 450],
    ]);
  });

  it('leaves out sides that touch', () => {
    const guides = clearMeasures(box(300, 1200, 0, 100), [box(0, 300)], shelf, ['across']);
    expect(guides).toEqual([]);
  });
});

describe('snapEdge', () => {
  it('takes the nearest edge within the tolerance', () => {
    const others = [box(0, 300), box(306, 400)];
    expect(snapEdge(302, 'across', others, 8)).toBe(300);
    expect(snapEdge(304, 'across', others, 8)).toBe(306);
    expect(snapEdge(350, 'across', others, 8)).toBe(350);
  });
});

describe('wholeStep', () => {
  it('settles on millimetres or sixteenths of an inch', () => {
    expect(wholeStep(12.4, 'metric')).toBe(12);
    // 1/16 in = 1.5875 mm; eight of them are 12.7 mm.
    expect(wholeStep(12.4, 'imperial')).toBeCloseTo(12.7, 10);
  });
});
