import { describe, expect, it } from 'vitest';
import { bayBox, FACES, type BayBox, type Face } from '../../../renderer/engine/light/bay/box';
import { gather } from '../../../renderer/engine/light/bay/gather';
import {
  arrivingFrom,
  reflectanceOfPatches,
  solveRadiosity,
} from '../../../renderer/engine/light/bay/radiosity';
import {
  parallelCorner,
  parallelExchange,
  perpendicularExchange,
} from '../../../renderer/engine/light/bay/viewFactors';

// View factors and enclosures: tests/reference/trade-facts.md, sections 1.5 and 1.6 (ten figures).
const near = (found: number, expected: number) =>
  expect(Math.abs(found / expected - 1)).toBeLessThan(1.5e-9);

describe('view factors (trade sheet 1.5)', () => {
  it.each([
    [1, 1, 0.138531606],
    [2, 1, 0.1673750099],
    [2, 2, 0.207757125],
    [3, 1.5, 0.2032316053],
    [0.5, 0.5, 0.05986411762],
  ])('element to parallel rectangle %d by %d', (x, y, factor) => {
    near(parallelCorner(x, y, 1), factor);
  });

  it.each([
    [1, 1, 0.1998248957],
    [2, 1, 0.2858753849],
    [2, 2, 0.4152532836],
    [3, 1.5, 0.4154124595],
    [0.5, 0.5, 0.06858958882],
    [4, 2, 0.508988669],
  ])('aligned parallel rectangles %d by %d', (x, y, factor) => {
    near(parallelExchange(x, y, 1, 0, 0) / (x * y), factor);
  });

  it.each([
    [1, 1, 0.2000437761],
    [1, 2, 0.2328526028],
    [2, 1, 0.1164263014],
    [0.5, 1, 0.2923733582],
    [1, 0.5, 0.1461866791],
    [3, 1, 0.0805857169],
  ])('perpendicular rectangles %d and %d with a common edge', (w, h, factor) => {
    near(perpendicularExchange(1, 0, 0, w, 0, h) / w, factor);
  });
});

const whole = { x: 1, y: 1, z: 1 };
const shelfBay = { widthMm: 1200, depthMm: 600, bottomMm: 0, topMm: 400 };
const cube = { widthMm: 1000, depthMm: 1000, bottomMm: 0, topMm: 1000 };

function factor(box: BayBox, from: Face, to: Face): number {
  const i = box.faces[from].first;
  return (box.exchange[i * box.count + box.faces[to].first] ?? 0) / (box.areaM2[i] ?? 1);
}

function reflecting(box: BayBox, canopy: number, above: number, walls: number): Float64Array {
  const sides = { front: walls, back: walls, left: walls, right: walls };
  return reflectanceOfPatches(box, { canopy, above, ...sides });
}

/** A ceiling that gives off 1 per area, and nothing else does. */
function litFromAbove(box: BayBox): Float64Array {
  const { first, across, up } = box.faces.above;
  return new Float64Array(box.count).fill(1, first, first + across * up);
}

const meanOf = (box: BayBox, face: Face, values: Float64Array) => {
  const { first, across, up } = box.faces[face];
  const part = values.subarray(first, first + across * up);
  return part.reduce((sum, value) => sum + value, 0) / part.length;
};

describe('a box of 1.2 × 0.6 × 0.4', () => {
  it('one patch a face has the view factors of the sheet', () => {
    const box = bayBox(shelfBay, whole);
    near(factor(box, 'canopy', 'above'), 0.4154124595);
    near(factor(box, 'canopy', 'front'), 0.1982683851);
    near(factor(box, 'above', 'left'), 0.0940253852);
    near(factor(box, 'back', 'canopy'), 0.2974025776);
    near(factor(box, 'front', 'back'), 0.2110412328);
    near(factor(box, 'front', 'right'), 0.09707680603);
    near(factor(box, 'left', 'above'), 0.2820761556);
    near(factor(box, 'right', 'back'), 0.1941536121);
    near(factor(box, 'left', 'right'), 0.04754046467);
  });

  it.each([
    [1, 1, 1],
    [6, 3, 2],
    [5, 4, 3],
  ])('cut %d × %d × %d: every row closes to 1, and reciprocity holds', (x, y, z) => {
    const box = bayBox(shelfBay, { x, y, z });
    const ones = new Float64Array(box.count).fill(1);
    for (const row of arrivingFrom(box, ones)) expect(Math.abs(row - 1)).toBeLessThan(1e-11);
    for (let i = 0; i < box.count; i++) {
      for (let j = 0; j < box.count; j++) {
        expect(box.exchange[i * box.count + j]).toBe(box.exchange[j * box.count + i]);
      }
    }
  });

  it('patches of a face add up to the face', () => {
    const box = bayBox(shelfBay, { x: 5, y: 4, z: 3 });
    const exchangeOf = (from: Face, to: Face) => {
      const [a, b] = [box.faces[from], box.faces[to]];
      let sum = 0;
      for (let i = a.first; i < a.first + a.across * a.up; i++) {
        for (let j = b.first; j < b.first + b.across * b.up; j++) {
          sum += box.exchange[i * box.count + j] ?? 0;
        }
      }
      return sum;
    };
    const coarse = bayBox(shelfBay, whole);
    for (const from of FACES) {
      for (const to of FACES) {
        if (from === to) continue;
        const at = coarse.faces[from].first * coarse.count + coarse.faces[to].first;
        near(exchangeOf(from, to), coarse.exchange[at] ?? 0);
      }
    }
  });

  it('patches lie where they should: a point hears most from the nearest', () => {
    const box = bayBox(shelfBay, { x: 6, y: 3, z: 2 });
    const { canopy, front, back, left, right, above } = box.faces;
    const between = (i: number, j: number) => box.exchange[i * box.count + j] ?? 0;
    // Front left corner patch of the canopy against the low and high patches of each side.
    const corner = canopy.first;
    expect(between(corner, front.first)).toBeGreaterThan(between(corner, front.first + 1));
    expect(between(corner, front.first)).toBeGreaterThan(between(corner, front.first + 6));
    expect(between(corner, left.first)).toBeGreaterThan(between(corner, left.first + 1));
    expect(between(corner, back.first)).toBeLessThan(between(corner, front.first));
    expect(between(corner, right.first)).toBeLessThan(between(corner, left.first));
    // Under the ceiling it is the upper patches that are near.
    expect(between(above.first, front.first + 6)).toBeGreaterThan(
      between(above.first, front.first),
    );
    expect(between(front.first, left.first)).toBeGreaterThan(between(front.first, left.first + 3));
    expect(between(back.first, left.first)).toBeLessThan(between(back.first, left.first + 2));
  });

  it.each([
    [0, 0, 0, 0.4154124595],
    [0, 0, 0.5, 0.5232650335],
    [0, 0, 0.8, 0.6201565352],
    [0, 0, 0.9, 0.6610256389],
    [0, 0.8, 0.8, 0.7416324088],
    [0.2, 0.6, 0.8, 0.7799888364],
    [0.2, 0.6, 0.9, 0.8717044204],
    [0.8, 0, 0, 0.4154124595],
  ])('ρ floor %d, ceiling %d, walls %d: light at the floor (trade sheet 1.6)', (f, c, w, g) => {
    const box = bayBox(shelfBay, whole);
    const solved = solveRadiosity(box, reflecting(box, f, c, w), litFromAbove(box));
    near(meanOf(box, 'canopy', solved.arriving), g);
    if (f === 0.2 && w === 0.8) {
      near(meanOf(box, 'front', solved.arriving), 0.5981641719);
      near(meanOf(box, 'left', solved.arriving), 0.5926063723);
      near(meanOf(box, 'above', solved.arriving), 0.3437107551);
    }
  });

  it('energy balances to 1e-9, finely cut and almost lossless too', () => {
    for (const [f, c, w] of [
      [0.1, 0.7, 0.85],
      [0.999, 0.999, 0.999],
      [0, 1, 1],
    ] as const) {
      const box = bayBox(shelfBay, { x: 8, y: 4, z: 3 });
      const rho = reflecting(box, f, c, w);
      const emitted = litFromAbove(box);
      const { arriving } = solveRadiosity(box, rho, emitted);
      let given = 0;
      let absorbed = 0;
      box.areaM2.forEach((area, i) => {
        given += area * (emitted[i] ?? 0);
        absorbed += area * (1 - (rho[i] ?? 0)) * (arriving[i] ?? 0);
      });
      expect(Math.abs(absorbed / given - 1)).toBeLessThan(1e-9);
    }
  });

  it('converges as the patches are refined', () => {
    const at = (n: number) => {
      const box = bayBox(shelfBay, { x: 3 * n, y: 2 * n, z: n });
      const solved = solveRadiosity(box, reflecting(box, 0.2, 0.6, 0.8), litFromAbove(box));
      return meanOf(box, 'canopy', solved.arriving);
    };
    const [one, two, four] = [at(1), at(2), at(4)];
    expect(Math.abs(four - two)).toBeLessThan(0.5 * Math.abs(two - one));
    expect(Math.abs(four / two - 1)).toBeLessThan(0.005);
  });

  it('a closed bay that absorbs nothing is refused', () => {
    const box = bayBox(shelfBay, whole);
    expect(() => solveRadiosity(box, reflecting(box, 1, 1, 1), litFromAbove(box))).toThrow(
      'every face of the bay reflects all light',
    );
    expect(() => reflecting(box, 1.2, 0, 0)).toThrow('reflectance of canopy: 1.2');
    expect(() => bayBox({ ...shelfBay, bottomMm: 500 }, whole)).toThrow('bay from 500 to 400 mm');
  });
});

describe('unit cube with black floor and ceiling (trade sheet 1.6)', () => {
  it.each([
    [0, 0.1998248957],
    [0.5, 0.3141534955],
    [0.8, 0.4460533442],
    [0.9, 0.5129517892],
    [1, 0.5999124478],
  ])('walls of %d', (rho, g) => {
    const box = bayBox(cube, whole);
    const solved = solveRadiosity(box, reflecting(box, 0, 0, rho), litFromAbove(box));
    near(meanOf(box, 'canopy', solved.arriving), g);
  });
});

describe('gathering at a point', () => {
  const faceOf = (box: BayBox, face: Face) => {
    const { first, across, up } = box.faces[face];
    return new Float64Array(box.count).fill(1, first, first + across * up);
  };

  it.each([
    ['above', 0.543460641],
    ['front', 0.1851016193],
    ['back', 0.1851016193],
    ['left', 0.04316806017],
    ['right', 0.04316806017],
  ] as const)('at the centre of the floor from %s (trade sheet 1.5)', (face, factorOf) => {
    for (const cuts of [whole, { x: 6, y: 4, z: 3 }]) {
      const box = bayBox(shelfBay, cuts);
      const found = gather(box, faceOf(box, face), [{ xMm: 600, yMm: 300, zMm: 0 }]);
      near(found[0] ?? NaN, factorOf);
    }
  });

  it.each([
    [1, 1, 1, 0.055734197],
    [1, 1, 0.5, 0.1242689099],
    [2, 1, 1, 0.09506794119],
    [1, 2, 0.5, 0.135488397],
    [0.4, 0.6, 0.6, 0.03309967715],
  ])('a standing rectangle %d high and %d wide, %d away (trade sheet 1.5)', (a, b, c, expected) => {
    // Opposite one lower corner: at the left end of a bay as wide as the rectangle.
    const size = { widthMm: 1000 * b, depthMm: 1500, bottomMm: 0, topMm: 1000 * a };
    const box = bayBox(size, { x: 3, y: 2, z: 2 });
    const fromFront = gather(box, faceOf(box, 'front'), [{ xMm: 0, yMm: 1000 * c, zMm: 0 }]);
    near(fromFront[0] ?? NaN, expected);
    const turned = { widthMm: 1500, depthMm: 1000 * b, bottomMm: 0, topMm: 1000 * a };
    const other = bayBox(turned, { x: 2, y: 3, z: 2 });
    const fromRight = gather(other, faceOf(other, 'right'), [
      { xMm: 1500 - 1000 * c, yMm: 1000 * b, zMm: 0 },
    ]);
    near(fromRight[0] ?? NaN, expected);
  });

  it('at a floor corner from above, and everything from everywhere', () => {
    const box = bayBox(shelfBay, { x: 6, y: 4, z: 3 });
    near(gather(box, faceOf(box, 'above'), [{ xMm: 0, yMm: 0, zMm: 0 }])[0] ?? NaN, 0.2032316053);
    const ones = new Float64Array(box.count).fill(1);
    const points = [
      { xMm: 310, yMm: 77, zMm: 0 },
      { xMm: 1100, yMm: 590, zMm: 130 },
    ];
    // A receiver that looks up into a closed, evenly bright room sees brightness 1.
    for (const value of gather(box, ones, points)) near(value, 1);
  });

  it('agrees with the patches’ own means as they shrink', () => {
    const box = bayBox(shelfBay, { x: 24, y: 12, z: 8 });
    const bright = new Float64Array(box.count);
    bright.forEach((_, i) => (bright[i] = 1 + (i % 7)));
    const { first, across } = box.faces.canopy;
    bright.fill(0, first, first + across * 12);
    const arriving = arrivingFrom(box, bright);
    // Patch (11, 5), centre 575, 275.
    const found = gather(box, bright, [{ xMm: 575, yMm: 275, zMm: 0 }])[0] ?? NaN;
    const patch = arriving[first + 5 * across + 11] ?? NaN;
    expect(Math.abs(found / patch - 1)).toBeLessThan(0.005);
  });
});
