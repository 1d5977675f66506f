import { describe, expect, it } from 'vitest';
import type { QuarterTurn, Shelf } from '../../../shared-types/rack';
import { shelvesBeside, racksInRoom, wallsBehind } from '../../../renderer/engine/geometry';
import { shelfOf } from '../../builders/rackParts';

const at = (n: number, xMm: number, yMm: number, turnDeg: QuarterTurn = 0, more = {}): Shelf =>
  shelfOf({ id: `s${n}`, number: n, stands: { xMm, yMm, turnDeg }, ...more });
const open = { above: 0.5, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 };
const seen = (...shelves: [Shelf, ...Shelf[]]) =>
  shelvesBeside(shelves[0], shelves).map(({ side, other, shelfId, gapMm }) =>
    [side, other, shelfId, gapMm].join(' '),
  );

// Shelves of 1200 × 600 mm: every gap below is the difference of the places as typed.
describe('what stands beside a shelf', () => {
  const self = at(1, 0, 0, 0, { reflectances: open });

  it('is found across each side, and turned racks by the side that they turn to it', () => {
    expect(seen(self, at(2, 1250, 0))).toEqual(['right left s2 50']);
    expect(seen(self, at(2, -1300, 100))).toEqual(['left right s2 100']);
    expect(seen(self, at(2, 0, 650))).toEqual(['back front s2 50']);
    expect(seen(self, at(2, 1200, 1250, 180))).toEqual(['back back s2 50']);
    // A quarter turn anticlockwise: its front looks to the right, so its corner is at the far left.
    expect(seen(self, at(2, 1850, 0, 90))).toEqual(['right back s2 50']);
    expect(seen(self, at(2, 1250, 1200, 270))).toEqual(['right front s2 50']);
  });

  it('is of another rack, no farther than light carries, and about as high', () => {
    expect(seen(self, at(2, 0, 0, 0, { heightMm: 900 }))).toEqual([]);
    expect(seen(self, at(2, 3200, 0))).toEqual(['right left s2 2000']);
    expect(seen(self, at(2, 3201, 0))).toEqual([]);
    expect(seen(self, at(2, 1250, 0, 0, { heightMm: self.heightMm + 500 }))).toEqual([]);
    expect(seen(self, at(2, 2200, 0, 0, { heightMm: self.heightMm + 500 }))).toHaveLength(1);
    // Corner to corner there is nothing across.
    expect(seen(self, at(2, 1250, 600))).toEqual([]);
  });

  it('is hidden by what stands between', () => {
    const far = at(3, 1300 + 600, 0);
    expect(seen(self, far)).toHaveLength(1);
    expect(seen(self, far, at(2, 1250, 0, 0, { widthMm: 600 }))).toEqual(['right left s2 50']);
  });

  it('is what the person says where a side is said to face something', () => {
    const other = at(2, 1250, 0);
    expect(seen({ ...self, faces: { right: { kind: 'dark' } } }, other)).toEqual([]);
    expect(seen(self, { ...other, faces: { left: { kind: 'dark' } } })).toEqual([]);
    expect(seen({ ...self, reflectances: { ...open, right: 0.85 } }, other)).toEqual([]);
    const named = { right: { kind: 'shelf' as const, shelfId: 's3', gapMm: 70 } };
    expect(seen({ ...self, faces: named }, other, at(3, 0, 0))).toEqual(['right left s3 70']);
  });

  it('is a wall where its side is a board, if that is close', () => {
    const white = { reflectances: { ...open, left: 0.85 } };
    expect(shelvesBeside(self, [self, at(2, 1250, 0, 0, white)])[0]?.board).toBe(0.85);
    expect(seen(self, at(2, 1501, 0, 0, white))).toEqual([]);
  });
});

it('a wall of the room is behind a side that stands close to it', () => {
  const room = { widthMm: 3000, depthMm: 3000 };
  expect(wallsBehind(at(1, 100, 0, 0, { reflectances: open }), room)).toEqual([
    { side: 'front', distanceMm: 1 },
    { side: 'left', distanceMm: 100 },
  ]);
  // Turned round in the far corner, its front looks to the back of the room.
  const turned = at(1, 2999, 2700, 180, { reflectances: open });
  expect(wallsBehind(turned, room)).toEqual([
    { side: 'front', distanceMm: 300 },
    { side: 'left', distanceMm: 1 },
  ]);
});

it('shelves that stand alike are one rack', () => {
  const racks = racksInRoom([at(1, 0, 0), at(2, 1250, 0), shelfOf({ id: 's3' }), at(4, 0, 0, 180)]);
  expect(racks.map((rack) => rack.map(({ id }) => id))).toEqual([['s1', 's3'], ['s2'], ['s4']]);
});
